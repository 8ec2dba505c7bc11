"""Stage 4, render: a `Card` becomes HTML text and PDF bytes. No number is computed here."""
