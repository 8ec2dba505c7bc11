"""The command line: reads arguments, prints, and ends with a code."""
