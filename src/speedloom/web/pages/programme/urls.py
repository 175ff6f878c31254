"""Addresses of programmes."""

from __future__ import annotations

from django.urls import path

from speedloom.web.pages.programme import (
    again,
    changes,
    changes_copies,
    changes_lines,
    handed_out,
    revisions,
    undoing,
    views,
)

HERE = "squads/<str:squad>/programmes/<str:programme>/"

urlpatterns = [
    path("squads/<str:squad>/programmes/", views.programmes_page, name="programmes"),
    path(HERE, views.programme_page, name="programme"),
    path(f"{HERE}check/", views.check_part, name="programme_check"),
    path(f"{HERE}why/<str:ref>/", views.why_page, name="programme_why"),
    path(f"{HERE}change/<str:ref>/", changes.change_page, name="programme_change"),
    path(f"{HERE}lock/<str:ref>/", changes.lock_page, name="programme_lock"),
    path(f"{HERE}swap/<str:ref>/", changes_lines.swap_page, name="programme_swap"),
    path(f"{HERE}add/<str:ref>/", changes_lines.add_page, name="programme_add"),
    path(f"{HERE}remove/<str:ref>/", changes_lines.remove_page, name="programme_remove"),
    path(f"{HERE}copy-week/", changes_copies.copy_week_page, name="programme_copy_week"),
    path(f"{HERE}copy/", changes_copies.copy_page, name="programme_copy"),
    path(f"{HERE}solve-again/", again.again_page, name="programme_again"),
    path(f"{HERE}revisions/", revisions.revisions_page, name="programme_revisions"),
    path(f"{HERE}undo/", undoing.step_page, {"way": "undo"}, name="programme_undo"),
    path(f"{HERE}redo/", undoing.step_page, {"way": "redo"}, name="programme_redo"),
    path(f"{HERE}revisions/compare/", revisions.compare_page, name="programme_compare"),
    path(f"{HERE}revisions/<int:number>/", revisions.restore_page, name="programme_restore"),
    path(f"{HERE}hand-out/<str:kind>/", handed_out.hand_out, name="programme_hand_out"),
]
