"""Notes that joint families give, as a drawing prints them: lengths in the plan's units, sides of the part by their names."""

from __future__ import annotations

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.picture.lay import face_name
from drawleaf.joinery.bench import Note
from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.units import Length, LengthFormat


def note_pieces(form: LengthFormat, note: Note, part: Part) -> Rich:
    """The pieces of a note about a part."""
    found: Rich = ()
    for piece in note:
        if isinstance(piece, Length):
            found = (*found, *inline_pieces(form, piece))
        else:
            found = (*found, face_name(part, piece) if isinstance(piece, Face) else piece)
    return found
