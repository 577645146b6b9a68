"""Whether a joint was too small: peak torque, hard pulls until it cracks, play, bind as a lever."""
