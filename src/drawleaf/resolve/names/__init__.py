"""What a word in the source means: names, scopes, the graph of lengths, findings. Imports nothing of resolve."""
