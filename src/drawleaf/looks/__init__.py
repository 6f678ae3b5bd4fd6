"""Photo-like pictures of the piece: wood worked out by the program, a scene made of the solids, and the renderer behind them."""
