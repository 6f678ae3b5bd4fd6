"""An order in which the parts go together, each move proven. Hands out bodies, their order, and what is stuck."""
