"""What every table of a rig file is made of: numbers with units, rules on keys, what is wrong."""
