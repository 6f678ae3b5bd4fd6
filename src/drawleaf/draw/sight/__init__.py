"""What the eye sees of solids: views, hidden lines, cuts. Solids in, lines out; imports nothing of draw."""
