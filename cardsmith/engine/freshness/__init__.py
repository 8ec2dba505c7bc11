"""What the last build left and what it rested on: content decides what is made again."""
