"""The work in the shop, a file a kind of work. Hands out operations with their settings; `derive/steps.py` puts them in order."""
