"""What each address of a job answers, a file a station: asks ``answers``, knows no socket."""
