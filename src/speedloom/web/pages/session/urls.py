"""Addresses of a session on the field, of the whole squad and of one athlete, and of the log's door."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.session import door, now, paper, sent_in, views, worker

SQUAD = "squads/<str:squad>/programmes/<str:programme>/"
ATHLETE = "squads/<str:squad>/athletes/<str:athlete>/programmes/<str:programme>/"

urlpatterns = [
    path("worker.js", worker.worker, name="session_worker"),
    path(f"{SQUAD}written/", door.written, name="written"),
    path(f"{ATHLETE}written/", door.written, name="written_of"),
    path(f"{SQUAD}sessions/<str:date>/", views.session_page, name="session"),
    path(f"{ATHLETE}sessions/<str:date>/", views.session_page, name="session_of"),
    path(f"{SQUAD}sessions/<str:date>/limits/", now.limits_now, name="session_limits"),
    path(f"{ATHLETE}sessions/<str:date>/limits/", now.limits_now, name="session_limits_of"),
    path(f"{SQUAD}sessions/<str:date>/paper/", paper.paper_page, name="session_paper"),
    path(f"{SQUAD}sessions/<str:date>/sent-in/", sent_in.sent_in_page, name="session_sent_in"),
]
