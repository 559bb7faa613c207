"""Which pictures are read: how their files begin, and how they are called. Looked at without opening any."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePath


@dataclass(frozen=True)
class PictureFormat:
    """A kind of file of pixels. endings: of its name, the usual one first. beginnings: of its bytes, as pieces at their
    places, by the format's own specification."""

    name: str
    endings: tuple[str, ...]
    beginnings: tuple[dict[int, bytes], ...]

    def begins(self, data: bytes) -> bool:
        return any(all(data.startswith(piece, at) for at, piece in each.items()) for each in self.beginnings)


# Those of which a file may hold several pictures last.
FORMATS = (
    PictureFormat("PNG", ("png",), ({0: b"\x89PNG\r\n\x1a\n"},)),
    PictureFormat("JPEG", ("jpg", "jpeg"), ({0: b"\xff\xd8\xff"},)),
    PictureFormat("BMP", ("bmp",), ({0: b"BM"},)),
    PictureFormat("TIFF", ("tif", "tiff"), ({0: b"II*\0"}, {0: b"MM\0*"})),
    PictureFormat("GIF", ("gif",), ({0: b"GIF87a"}, {0: b"GIF89a"})),
    PictureFormat("WEBP", ("webp",), ({0: b"RIFF", 8: b"WEBP"},)),
)
DRAWING = "svg"
# What these are called.
KINDS = ", ".join(each.name for each in FORMATS)
# The usual ends of the names of all that is read.
USUAL_ENDINGS = (*(each.endings[0] for each in FORMATS), DRAWING)
_ENDINGS = {f".{ending}" for each in FORMATS for ending in each.endings} | {f".{DRAWING}"}


def kind_of(data: bytes) -> str:
    """The kind of a picture made of pixels, as the usual end of a file's name; "" for anything else."""
    return next((each.endings[0] for each in FORMATS if each.begins(data)), "")


def is_picture(name: str) -> bool:
    """Whether a file is called as pictures of prints are."""
    return PurePath(name).suffix.lower() in _ENDINGS
