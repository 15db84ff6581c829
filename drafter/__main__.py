from drafter.cli import main

raise SystemExit(main())
