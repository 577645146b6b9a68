"""The cures of the rig as plain lines, each with the rig file it makes."""
