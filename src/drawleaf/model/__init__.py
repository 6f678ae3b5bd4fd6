"""The resolved plan and what is derived from it, as frozen values. No reading, no writing, no formatting."""
