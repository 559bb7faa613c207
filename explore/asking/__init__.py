"""Reading a brief: TOML and flags to `constraints.brief.Brief`, and back to TOML.

`keys` is the one table of keys: options, help, messages and files follow from it. `kinds`, `several`, `names`,
`stamps` and `tastes` are the kinds of values, in their units; `briefs` reads and writes; `designs` has the brief that a
finished design keeps; `settings` are her own defaults.
"""

from explore.asking.briefs import BriefError, BriefRequest, from_toml, read, read_option, to_toml
from explore.asking.keys import BUILT_IN, KEYS, NAMED, Key

__all__ = [
    "BUILT_IN",
    "KEYS",
    "NAMED",
    "BriefError",
    "BriefRequest",
    "Key",
    "from_toml",
    "read",
    "read_option",
    "to_toml",
]
