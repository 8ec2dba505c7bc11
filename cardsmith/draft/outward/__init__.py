"""The way back: a recipe as an editor mails it, which drafted is the same recipe again."""
