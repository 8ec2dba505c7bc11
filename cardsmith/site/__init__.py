"""The web site: a page a recipe, the pages of the collection, search and feed. Nothing here touches files."""
