"""What is to be seen, as plain data and as verbs for a stage. Knows no drawing library.

parts               a body where it stands, and what it is made of
part, mount, facts  what bodies are made from, once: pieces that hang on frames, and what is told
shaft_parts         yokes, crosses, tubes and slip; vehicle_parts: case, axle housing, bearing
surroundings        things near the shaft; suspension: links and springs
joint_bodies        where the bodies of a joint or head stand, for sheets and window alike
spot, side          the place where metal meets, and from which side it is best seen
joint, shaft, check_sheet, relief, yoke, yoke_shelf   the sheets: their data, and how it is drawn
build_joint, build_shaft   sheets out of a pose and what was found there
closeup, section    a cut through the place, hatched; nearby: what lives around the shaft
page, figure        words around pictures; bodies in a pane with marks and words over them
labels, marks       where words go, and the shapes that point at a place
"""
