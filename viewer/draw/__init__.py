"""Drawing: a narrow canvas, its recording twin, and the one that draws with VTK.

base, camera        what a canvas can do, and from where it looks
shading             normals and edges that make triangles look like machined metal
recording           writes down the calls, for tests without a screen
pyvista_canvas      draws; the only module that knows pyvista, imported late
child               the process a picture is drawn in
"""
