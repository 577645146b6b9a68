"""The turn strip: the gap of a joint over one turn of the shaft."""
