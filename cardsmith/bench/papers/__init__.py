"""What is read at the bench and after it: the sheet of a trial, plots, the report."""
