"""What a layout desk gets of a card, in forms that need no program of ours."""
