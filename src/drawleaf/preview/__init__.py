"""The preview: the booklet in a browser while its plan is written."""
