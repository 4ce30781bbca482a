"""What coper can be asked, a file a verb: options in, an answer out."""
