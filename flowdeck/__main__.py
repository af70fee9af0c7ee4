"""`python -m flowdeck`."""

from flowdeck.cli.main import main

raise SystemExit(main())
