"""Parts that are alike on one line. Hands out the cut list and the key by which parts are alike."""
