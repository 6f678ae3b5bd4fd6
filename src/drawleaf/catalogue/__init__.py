"""All booklets of an author: which there are, which of them have to be made, making them side by side, and a store of what was made."""
