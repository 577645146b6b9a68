"""Drawing: a space that an eye looks at, in a window and on paper, and what draws them with VTK.

base, camera        looks of what is drawn, and from where it is looked at
stage               what can be done: things put up and moved in a space; panes, a page over them
verdict_mark        the marks of the verdicts, for whoever draws them
shading, ribbon     normals and edges that make triangles look like machined metal; broad lines
label_places, rows  where words in space stand; how a text is broken into rows
pyvista_pane        a space in a region of a window; like all that knows pyvista, imported late
pyvista_stage, pyvista_paper   the space of a whole window; paper with panes and a page
vtk_parts           its triangles, lamps and letters
"""
