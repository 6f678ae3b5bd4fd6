"""How the bench measures and marks: from which faces, at what angle, with which holes.

Hands out origins, channels, outlines, slants, mitres and screw holes to derive, checks, draw and book, so that a step, a drawing and a
check of one thing say the same."""
