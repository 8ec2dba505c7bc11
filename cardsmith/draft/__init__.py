"""What arrives to a recipe file, and back: a draft's lines read, sorted by what they say, written as YAML."""
