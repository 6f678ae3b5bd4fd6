"""Parts placed, shaped and repeated, within the limits of a plan."""
