"""What is printed, a file a sheet."""
