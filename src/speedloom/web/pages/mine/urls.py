"""Addresses of an athlete's own page."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.mine import noted, views, written

HERE = "squads/<str:squad>/athletes/<str:athlete>/mine/"

urlpatterns = [
    path(HERE, views.mine_page, name="mine"),
    path(f"{HERE}answers/", views.answers, name="mine_answers"),
    path(f"{HERE}note/", noted.note, name="mine_note"),
    path(f"{HERE}stop/", views.stop_page, name="mine_stop"),
    path(f"{HERE}sheet/", views.sheet, name="mine_sheet"),
    path(f"{HERE}programmes/<str:programme>/<str:session>/", written.session_page, name="mine_session"),
]
