"""A file's bytes to a tree of text that fits its schema, every fault with its place."""
