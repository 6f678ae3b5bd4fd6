"""Lists, layouts, steps and the audit, worked out from the resolved plan."""
