"""The shop page: the whole job in a browser; it asks the verbs and works nothing out itself."""
