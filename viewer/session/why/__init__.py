"""The inspection of a failed joint being written, and why it broke or wore as that goes on."""
