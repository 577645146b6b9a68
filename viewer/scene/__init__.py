"""What is to be seen, as plain data and as verbs for a stage. Knows no drawing library.

parts               a body where it stands, and what it is made of
part, mount, facts  what bodies are made from, once: pieces that hang on frames, and what is told
shaft_parts         yokes, crosses, tubes and slip; vehicle_parts: case, axle housing, bearing
surroundings        things near the shaft; suspension: links and springs
build               bodies and pictures of a posed shaft, for whoever has a vehicle and its yokes
joint, shaft        the two pictures: their data, and the verbs that draw them
figure, page        bodies in a pane of a sheet with marks and words; what stands around them
side                from which side a touching place is best seen
section             a cut through the touching place, hatched
overlap             the metal that would have to give
labels, marks       where words go, and the shapes that point at a place
"""
