"""The application as servers call it."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "protoconch.web.settings")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
application = get_wsgi_application()
