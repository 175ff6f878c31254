"""Django's settings, built when the site starts: nothing secret and no place stands in the code."""

from __future__ import annotations

from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from speedloom.store.data_folder import DataFolder
from speedloom.store.database import postgres_settings, sqlite_settings
from speedloom.web.topics import TOPICS

HERE = Path(__file__).resolve().parent
PICTURES = HERE.parent / "report" / "charts" / "on_page"
"""The style of the pictures on a page stands beside the code that draws them."""
MEGABYTE = 1_000_000
LONGEST_UPLOAD = 8 * MEGABYTE
"""The most that one request may carry [bytes]: a season's tests of a large squad is a tenth of it."""
MOST_FIELDS = 20_000
"""The most fields of one form: a grid of 500 athletes with 40 columns."""
TWO_WEEKS_S = 14 * 24 * 3600
HERE_ONLY = ("localhost", "127.0.0.1", "[::1]")

POLICY = {
    "default-src": ["'none'"],
    "script-src": ["'self'"],
    "style-src": ["'self'"],
    "img-src": ["'self'", "data:"],
    "font-src": ["'self'"],
    "connect-src": ["'self'"],
    "manifest-src": ["'self'"],
    "worker-src": ["'self'"],
    "form-action": ["'self'"],
    "base-uri": ["'none'"],
    "frame-ancestors": ["'none'"],
}
"""Nothing inline, nothing from another host."""


@dataclass(frozen=True)
class SiteOptions:
    """What differs from one site to another."""

    folder: DataFolder
    database_url: str | None = None
    hosts: tuple[str, ...] = ()
    port: int | None = None
    secure: bool = False
    """True where people reach it by https, through a server in front."""
    extra: dict[str, Any] = field(default_factory=dict)

    @property
    def database(self) -> dict[str, Any]:
        """Django's settings for the database."""
        if self.database_url:
            return postgres_settings(self.database_url)
        return sqlite_settings(self.folder.database)


def site_settings(options: SiteOptions) -> dict[str, Any]:
    """Build all settings of a site."""
    key = options.folder.secret_key()
    return {
        "SECRET_KEY": key,
        "DEBUG": False,
        "DATABASES": {"default": options.database},
        "ROOT_URLCONF": "speedloom.web.urls",
        "INSTALLED_APPS": [
            "django.contrib.contenttypes",
            "django.contrib.auth",
            "django.contrib.sessions",
            "django.contrib.messages",
            "django.contrib.staticfiles",
            "csp",
            "django_htmx",
            "speedloom.store.apps.StoreConfig",
            "speedloom.web.apps.WebConfig",
        ],
        "DEFAULT_AUTO_FIELD": "django.db.models.BigAutoField",
        "MIDDLEWARE": _MIDDLEWARE,
        "TEMPLATES": [_TEMPLATES],
        "LOGGING": _LOGGING,
        **_language(),
        **_people(sha256(key.encode()).hexdigest()[:8]),
        **_static(),
        **_limits(),
        **_addresses(options),
        **options.extra,
    }


_MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "speedloom.web.answered.FormMiddleware",
    "speedloom.web.access.RefusalMiddleware",
    "speedloom.web.typed.TypedMiddleware",
]

_LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {name}: {message}", "style": "{"}},
    "handlers": {"words": {"class": "logging.StreamHandler", "level": "ERROR", "formatter": "line"}},
    "loggers": {
        # A fault is told where the site was started, with its traceback; what people mistype is not.
        "django": {"handlers": ["words"], "level": "ERROR", "propagate": True},
        "waitress": {"handlers": ["words"], "level": "ERROR", "propagate": True},
    },
}

_TEMPLATES = {
    "BACKEND": "django.template.backends.django.DjangoTemplates",
    "DIRS": [HERE / "templates", *(HERE / "pages" / topic / "templates" for topic in TOPICS)],
    "OPTIONS": {
        "context_processors": [
            "django.template.context_processors.request",
            "django.contrib.messages.context_processors.messages",
            "speedloom.web.access.actor_in_templates",
            "speedloom.web.squad_nav.squad_nav",
        ],
        "builtins": ["speedloom.web.faults"],
        "loaders": [("django.template.loaders.cached.Loader", ["django.template.loaders.filesystem.Loader"])],
        "string_if_invalid": "",
    },
}


def _language() -> dict[str, Any]:
    return {
        "LANGUAGE_CODE": "en-gb",
        "LANGUAGES": [("en-gb", "English")],
        "LOCALE_PATHS": [HERE / "locale"],
        "USE_I18N": True,
        "USE_TZ": True,
        "TIME_ZONE": "UTC",
    }


def _people(site: str) -> dict[str, Any]:
    # Browsers keep the cookies of one computer together, whatever the port: each site has names of its own.
    check = "django.contrib.auth.password_validation"
    return {
        "AUTH_USER_MODEL": "store.Person",
        "AUTHENTICATION_BACKENDS": ["speedloom.store.signing_in.PersonBackend"],
        "PASSWORD_HASHERS": ["django.contrib.auth.hashers.Argon2PasswordHasher"],
        "AUTH_PASSWORD_VALIDATORS": [
            {
                "NAME": f"{check}.UserAttributeSimilarityValidator",
                "OPTIONS": {"user_attributes": ("login", "name")},
            },
            {"NAME": f"{check}.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
            {"NAME": f"{check}.CommonPasswordValidator"},
        ],
        "LOGIN_URL": "sign_in",
        "SESSION_COOKIE_AGE": TWO_WEEKS_S,
        "SESSION_COOKIE_NAME": f"speedloom_{site}_session",
        "SESSION_COOKIE_SAMESITE": "Lax",
        "CSRF_COOKIE_NAME": f"speedloom_{site}_csrf",
        "CSRF_COOKIE_HTTPONLY": True,
        "CSRF_COOKIE_SAMESITE": "Lax",
        "CSRF_FAILURE_VIEW": "speedloom.web.refused.csrf_failure",
        "MESSAGE_STORAGE": "django.contrib.messages.storage.session.SessionStorage",
    }


def _static() -> dict[str, Any]:
    return {
        "STATIC_URL": "/static/",
        "STATICFILES_DIRS": [HERE / "static", ("speedloom", PICTURES)],
        "WHITENOISE_USE_FINDERS": True,
        "WHITENOISE_AUTOREFRESH": False,
        "WHITENOISE_MAX_AGE": 3600,
        "WHITENOISE_ALLOW_ALL_ORIGINS": False,
    }


def _limits() -> dict[str, Any]:
    return {
        "DATA_UPLOAD_MAX_MEMORY_SIZE": LONGEST_UPLOAD,
        "DATA_UPLOAD_MAX_NUMBER_FIELDS": MOST_FIELDS,
        "DATA_UPLOAD_MAX_NUMBER_FILES": 5,
        "FILE_UPLOAD_MAX_MEMORY_SIZE": LONGEST_UPLOAD,
        "FILE_UPLOAD_PERMISSIONS": 0o600,
    }


def _addresses(options: SiteOptions) -> dict[str, Any]:
    hosts = [*HERE_ONLY, *options.hosts]
    scheme = "https" if options.secure else "http"
    port = "" if options.secure or options.port is None else f":{options.port}"
    return {
        "ALLOWED_HOSTS": hosts,
        "CSRF_TRUSTED_ORIGINS": [f"{scheme}://{host}{port}" for host in hosts],
        "SESSION_COOKIE_SECURE": options.secure,
        "CSRF_COOKIE_SECURE": options.secure,
        "SECURE_CONTENT_TYPE_NOSNIFF": True,
        "SECURE_REFERRER_POLICY": "same-origin",
        "SECURE_CROSS_ORIGIN_OPENER_POLICY": "same-origin",
        "SECURE_HSTS_SECONDS": TWO_WEEKS_S if options.secure else 0,
        "X_FRAME_OPTIONS": "DENY",
        "CONTENT_SECURITY_POLICY": {"DIRECTIVES": POLICY},
    }
