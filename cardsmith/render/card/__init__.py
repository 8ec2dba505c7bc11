"""The card: ready strings, the setting of type that fits, the file for the screen."""
