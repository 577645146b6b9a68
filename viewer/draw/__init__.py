"""Drawing: one stage for windows and sheets, and the one that draws with VTK.

base, camera        looks of what is drawn, and from where it is looked at
stage               what a stage can do: things that are put up and moved, panes, a page over them
verdict_mark        the marks of the verdicts, for whoever draws them
shading, ribbon     normals and edges that make triangles look like machined metal; broad lines
label_places, rows  where words in space stand; how a text is broken into rows
pyvista_stage       draws on a plotter or on a sheet; like all that knows pyvista, imported late
pyvista_pane        what stands in a region of it; vtk_parts: its triangles, lamps and letters
"""
