"""What this kit and this store can do: methods and their times, limits, bits, clamps, areas and weights.

Hands out the best method for a kind of work; knows no order of steps."""
