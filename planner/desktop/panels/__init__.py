"""The pages beside the picture: what to read, weigh and do with a planned day."""
