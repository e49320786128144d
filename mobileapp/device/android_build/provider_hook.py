"""Puts the FileProvider and the backup's rules into the manifest, as a hook of python-for-android.

It is named by `p4a.hook` in buildozer.spec.

Read in python-for-android 2026.05.09 and buildozer 1.6.0: `android.extra_manifest_xml` writes beside <application>, and
`android.extra_manifest_application_arguments` only attributes into its tag; a <provider> must stand inside it. The hook
`before_apk_build` is called in the dist's folder before `templates/AndroidManifest.tmpl.xml` is rendered, so the
provider is put into that template. (Later ones take `--extra-manifest-application-xml`; then this can go.)

The provider was put into that template here and the rendered manifest was read back; the rules came later and were
tried on the shape of it that the test holds. No Android build was ever made with either.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

TEMPLATE = Path("templates", "AndroidManifest.tmpl.xml")
PROVIDER = """
        <provider android:name="androidx.core.content.FileProvider"
                  android:authorities="{{ args.package }}.photos"
                  android:exported="false"
                  android:grantUriPermissions="true">
            <meta-data android:name="android.support.FILE_PROVIDER_PATHS"
                       android:resource="@xml/photo_paths" />
        </provider>
"""
_START, _END = re.compile(r"<application(?=\s)"), "</application>"
#: What goes into Android's own backup, and from phone to phone: nothing.
RULES = ' android:dataExtractionRules="@xml/backup_rules"'


def with_provider(template: str) -> str:
    """The template with the provider in its application and the rules named by it; unchanged where they are there.

    Raises ValueError without an application.
    """
    if "androidx.core.content.FileProvider" in template:
        return template
    before, end, after = template.rpartition(_END)
    before, found = _START.subn(lambda start: start[0] + RULES, before)
    if not end or found != 1:
        raise ValueError(f"The manifest's template has no one {_END}: the camera's provider cannot be put in.")
    return before.rstrip() + PROVIDER + "    " + end + after


def before_apk_build(toolchain: Any) -> None:
    """Called by python-for-android in the dist's folder."""
    TEMPLATE.write_text(with_provider(TEMPLATE.read_text(encoding="utf-8")), encoding="utf-8")
