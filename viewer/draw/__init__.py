"""Drawing: a narrow canvas, a live stage, their recording twins, and those that draw with VTK.

base, camera        what a canvas can do, and from where it looks
shading             normals and edges that make triangles look like machined metal
recording           writes down the calls, for tests without a screen
pyvista_canvas      draws off screen; like all that knows pyvista, imported late
stage               what a live view can do: things that are put up once and then moved
recording_stage     writes down what a stage is told
pyvista_stage       draws on a plotter that is handed in
vtk_parts           what canvas and stage have in common in VTK
child               the process a picture is drawn in
"""
