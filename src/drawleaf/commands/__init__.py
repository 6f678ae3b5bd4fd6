"""Commands that are more than a call of the compiler: one file each, loaded when its command is given."""
