"""What every widget is made with: colours, marks, plain words, listening to the session."""
