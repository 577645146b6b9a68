"""What is kept between runs: recent files, unsaved work, hints, the window's size."""
