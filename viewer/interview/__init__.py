"""Asking for a rig's measurements one at a time, with any way to ask and to tell.

`interview` holds the conversation and gives a rig; `new_rig_file` also writes it down. Neither
knows a terminal: `ask` shows a prompt and gives back what was typed, `tell` shows a text.
"""

from viewer.interview.conversation import interview, new_rig_file

__all__ = ["interview", "new_rig_file"]
