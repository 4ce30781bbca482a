"""What each station shows: plain values in, plain values out, no file and no socket."""
