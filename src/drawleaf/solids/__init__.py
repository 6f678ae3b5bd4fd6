"""Parts as true solids with their joinery cut, proofs that they fit, and the directions in which they can travel."""
