"""The shop book: what was read, ticked and measured at the bench, beside the job file."""
