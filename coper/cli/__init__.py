"""The command line: options in, words and files out; all the work is done elsewhere."""
