"""The whole piece: cover, elevations, sections, exploded views."""
