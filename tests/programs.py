"""Programs of the distribution that some tests look through: a headless browser and a PDF reader.

A contributor's machine may lack them, and those tests then say so. Where CI is set they must be there:
`.ci/setup test` installs them, so a skip would hide a broken set-up.
"""

from __future__ import annotations

import os
import shutil

import pytest

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
PDF_READER = shutil.which("pdftotext") if shutil.which("pdftoppm") else None
_MAY_LACK = not os.environ.get("CI")

needs_browser = pytest.mark.skipif(_MAY_LACK and BROWSER is None, reason="no headless browser here")
needs_pdf_reader = pytest.mark.skipif(_MAY_LACK and PDF_READER is None, reason="no poppler here")
