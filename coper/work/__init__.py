"""From an order to everything that comes out of it: the one way that every front end goes.

A file a verb: ``…Order`` is what was asked for, ``…Work`` what comes out, and ``…_json``,
``…_pages`` and ``…_files`` are its forms. What draws is imported only where something is drawn.
"""
