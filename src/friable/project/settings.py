"""Settings of Django. What may differ from place to place comes from the environment (docs/operate)."""

import os
from pathlib import Path

import environ

from friable.project import data_folder as _kept

env = environ.Env()

PACKAGE = Path(__file__).resolve().parents[1]
DATA_FOLDER = _kept.make_data_folder()

SECRET_KEY = _kept.secret_key()
DEBUG = env.bool("FRIABLE_DEBUG", default=False)
# Answered on this machine only; friable.project.loopback looks at the caller's address as well.
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]

INSTALLED_APPS = [
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "csp",
    "django_htmx",
    "template_partials",
    "simple_history",
    "friable.records",
    "friable.web",
    "friable.demo",
    "friable.project",
]

MIDDLEWARE = [
    "friable.project.loopback.LoopbackOnly",
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "friable.project.body_size.BodySize",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "friable.project.refusals.PlainRefusals",
]

ROOT_URLCONF = "friable.project.urls"
WSGI_APPLICATION = "friable.project.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [PACKAGE / "project" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    }
]

# --- database -----------------------------------------------------------------------------------

if os.environ.get("DATABASE_URL", "").strip():
    _database = env.db_url("DATABASE_URL")
else:
    _database = {"ENGINE": "django.db.backends.sqlite3", "NAME": str(_kept.database_file())}

if _database["ENGINE"] == "django.db.backends.sqlite3":
    # Readers never wait for a writer (WAL); a writer takes its turn at the start of its transaction
    # (IMMEDIATE) instead of failing half-way; what is saved outlives a power cut (FULL).
    _database["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    }
    _database["TEST"] = {"NAME": str(DATA_FOLDER / "tests.sqlite3")}
_database["CONN_MAX_AGE"] = 600
_database["CONN_HEALTH_CHECKS"] = True
DATABASES = {"default": _database}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# --- words and time -----------------------------------------------------------------------------

LANGUAGE_CODE = "en-gb"
USE_I18N = True
LOCALE_PATHS = [PACKAGE / "locale"]
USE_TZ = True
TIME_ZONE = env.str("FRIABLE_TIME_ZONE", default="Europe/London")

# --- files that do not change -------------------------------------------------------------------

STATIC_URL = "static/"
STATIC_ROOT = DATA_FOLDER / "static"
# Straight from the source tree, without collecting: for development and for the tests.
STATIC_FROM_SOURCE = DEBUG or env.bool("FRIABLE_STATIC_FROM_SOURCE", default=False)
WHITENOISE_USE_FINDERS = WHITENOISE_AUTOREFRESH = STATIC_FROM_SOURCE
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if STATIC_FROM_SOURCE
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

# --- safety -------------------------------------------------------------------------------------

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'none'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "img-src": ["'self'", "data:"],
        "font-src": ["'self'"],
        "connect-src": ["'self'"],
        "form-action": ["'self'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'none'"],
    }
}
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# Plain HTTP on this machine: there is no TLS for "secure" cookies to travel over.
SESSION_ENGINE = "django.contrib.sessions.backends.signed_cookies"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_AGE = 60 * 60 * 24 * 365  # whose initials this bench uses
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "friable.project.pages.form_too_old"

LARGEST_BODY_BYTES = 1_000_000
# A year of weather by the hour has 1.6 MB, a logger's by five minutes up to 4 MB.
LARGER_BODIES_BYTES = {"/climates/add": 5_000_000}
DATA_UPLOAD_MAX_MEMORY_SIZE = max(LARGEST_BODY_BYTES, *LARGER_BODIES_BYTES.values())
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000
FILE_UPLOAD_MAX_MEMORY_SIZE = DATA_UPLOAD_MAX_MEMORY_SIZE
DATA_UPLOAD_MAX_NUMBER_FILES = 4

# --- log ----------------------------------------------------------------------------------------

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"standard-error": {"class": "logging.StreamHandler"}},
    "loggers": {
        "django": {"handlers": ["standard-error"], "level": "ERROR", "propagate": False},
        "django.security.DisallowedHost": {"handlers": [], "propagate": False},
    },
}
