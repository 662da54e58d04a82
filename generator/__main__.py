"""`python -m generator`"""

import sys

from .cli import main

sys.exit(main())
