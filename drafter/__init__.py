"""Installation drawings for compressed-air piping: one site file in, checked drawings and lists out."""

__version__ = "0.1.0"
