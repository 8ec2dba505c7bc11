"""Press files of several cards on sheets of stock."""
