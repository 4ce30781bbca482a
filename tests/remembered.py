"""What coper keeps of what it has worked out, and how a test forgets it."""

import importlib
import pkgutil

import coper


def kept():
    """Every function that keeps its answers, by its name."""
    for found in pkgutil.walk_packages(coper.__path__, "coper."):
        if found.name != "coper.__main__":
            for value in vars(importlib.import_module(found.name)).values():
                if hasattr(value, "cache_clear") and value.__module__ == found.name:
                    yield f"{found.name}.{value.__name__}", value


def forget():
    """Whatever is asked next is worked out from nothing."""
    for _, one in kept():
        one.cache_clear()
