"""From the source tree to a resolved plan: dimensions, faces, joints, fittings. Nothing here reads files or prints."""
