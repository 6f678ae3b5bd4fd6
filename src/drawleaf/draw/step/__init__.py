"""A drawing for each step, and the schedule."""
