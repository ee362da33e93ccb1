"""Django's settings; what a site may choose comes from the environment.

PROTOCONCH_DATA: folder of the database and the key. DATABASE_URL: another database.
PROTOCONCH_HOSTS: names under which the server may be called, with commas.
PROTOCONCH_ADDRESS: what the codes on paper begin with, where it is not how the page was called.
"""

import os
import secrets
from pathlib import Path

import dj_database_url
import platformdirs
from django.conf.locale import LANG_INFO

HERE = Path(__file__).resolve().parent
PAGES = sorted(
    folder for folder in (HERE / "pages").iterdir() if (folder / "addresses.py").exists()
)
DATA = Path(os.environ.get("PROTOCONCH_DATA") or platformdirs.user_data_path("protoconch"))


def _secret() -> str:
    """The key that signs sessions: made once, kept readable for its owner only."""
    kept = DATA / "secret-key"
    if not kept.exists():
        DATA.mkdir(parents=True, exist_ok=True)
        with os.fdopen(os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            file.write(secrets.token_urlsafe(60))
    return kept.read_text("ascii")


SECRET_KEY = os.environ.get("PROTOCONCH_SECRET") or _secret()
DEBUG = False
ALLOWED_HOSTS = [host for host in os.environ.get("PROTOCONCH_HOSTS", "*").split(",") if host]
ADDRESS = os.environ.get("PROTOCONCH_ADDRESS", "")

INSTALLED_APPS = [
    "django.contrib.contenttypes",
    "django.contrib.auth",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "protoconch.records",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "protoconch.web.shell.headers.SafeHeaders",
    "django.middleware.gzip.GZipMiddleware",  # before the next: style sheets and scripts as well
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "protoconch.web.access.SignedIn",
    "protoconch.web.shell.reading.Reading",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
ROOT_URLCONF = "protoconch.web.addresses"
WSGI_APPLICATION = "protoconch.web.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [HERE / "shell" / "templates", *(page / "templates" for page in PAGES)],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "django.contrib.messages.context_processors.messages",
                "protoconch.web.shell.surroundings.surroundings",
            ],
            "builtins": [
                "django.templatetags.i18n",
                "django.templatetags.static",
                "protoconch.web.shell.words",
            ],
        },
    }
]

DATABASES = {
    "default": dj_database_url.parse(
        os.environ.get("DATABASE_URL") or f"sqlite:///{DATA / 'protoconch.sqlite3'}",
        conn_max_age=600,
    )
}
if "sqlite" in str(DATABASES["default"]["ENGINE"]):
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        # full: an acknowledged entry survives a pulled plug, not only a killed process;
        # recursive triggers: replacing a row of the log is refused as deleting it is
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;"
        " PRAGMA foreign_keys=ON; PRAGMA recursive_triggers=ON",
    }

AUTH_USER_MODEL = "records.Person"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "people:sign-in"
SESSION_COOKIE_AGE = 180 * 24 * 3600
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_SAVE_EVERY_REQUEST = False
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "protoconch.web.shell.faults.stale_form"
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"

LANGUAGE_CODE = "en"
LOCALE_PATHS = [HERE.parent / "locale"]
# only what can be read: a language is offered once its folder of words is there, for a page half
# in another language is worse than one that is whole
LANGUAGES = [
    ("en", LANG_INFO["en"]["name_local"]),
    *((words.parent.parent.name, LANG_INFO[words.parent.parent.name]["name_local"])
      for words in sorted(LOCALE_PATHS[0].glob("*/LC_MESSAGES/django.mo"))),
]  # fmt: skip
USE_I18N = USE_TZ = True
TIME_ZONE = "UTC"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

SECURE_PORT = 0
"""Where the same pages are answered over https with the own certificate, 0 for nowhere."""

STATIC_URL = "static/"
STATICFILES_DIRS = [
    HERE / "shell" / "static",
    *(page / "static" for page in PAGES if (page / "static").exists()),
]
WHITENOISE_USE_FINDERS = True
WHITENOISE_MAX_AGE = 3600
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
DATA_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {"waitress.queue": {"level": "ERROR"}},  # that a page waits its turn is no news
}
