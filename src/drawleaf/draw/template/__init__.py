"""Full-size templates and story sticks. Hands out the templates of a plan and their drawings."""
