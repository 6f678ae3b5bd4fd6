# Two commands for everyone: `make booklets` and `make test`. The rest is for contributors.
