"""What is to be seen, as plain data and as verbs for a stage. Knows no drawing library.

parts               a body with its pose and what it is made of
joint, shaft        the two pictures: their data, and the verbs that draw them
build               pictures out of a posed shaft, for whoever has a vehicle and its yokes
side                from which side a touching place is best seen
section             a cut through the touching place, hatched
overlap             the metal that would have to give
labels, marks       where words go, and the shapes that point at a place
page                headline, lines, caution, the arrow that points forward
live                the same for a view that stays: parts that are moved, marks, eyes
"""
