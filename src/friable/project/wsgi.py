"""The door through which the web server reaches the pages."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "friable.project.settings")

application = get_wsgi_application()
