"""What the camera needs of the phone's build, in step with the code: read in the tools' sources, never built."""

import configparser
import importlib.util
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from mobileapp.device.camera_android import AUTHORITY
from mobileapp.device.camera_awaited import FOLDER
from mobileapp.device.share_android import FOLDERS as SHARED

ROOT = Path(__file__).resolve().parents[2]
ANDROID = "{http://schemas.android.com/apk/res/android}"
#: The shape of python-for-android's template, without most of what is in it.
TEMPLATE = """<?xml version="1.0" encoding="utf-8"?>
<manifest xmlns:android="http://schemas.android.com/apk/res/android" package="{{ args.package }}">
    <application android:label="@string/app_name">
        <activity android:name="org.kivy.android.PythonActivity" />
    </application>

</manifest>
"""


@pytest.fixture(scope="module")
def hook():
    path = ROOT / "mobileapp/device/android_build/provider_hook.py"
    spec = importlib.util.spec_from_file_location("provider_hook", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def spec():
    parser = configparser.ConfigParser(interpolation=None)
    parser.read(ROOT / "buildozer.spec", encoding="utf-8")
    return parser["app"]


def test_the_provider_stands_inside_the_application_and_gives_out_the_codes_authority(hook):
    manifest = hook.with_provider(TEMPLATE).replace("{{ args.package }}", "org.countback.countback")
    (provider,) = ElementTree.fromstring(manifest).findall("application/provider")
    assert provider.get(ANDROID + "authorities") == "org.countback.countback" + AUTHORITY
    assert provider.get(ANDROID + "name") == "androidx.core.content.FileProvider"
    assert provider.get(ANDROID + "exported") == "false"
    assert provider.get(ANDROID + "grantUriPermissions") == "true"
    assert provider.find("meta-data").get(ANDROID + "resource") == "@xml/photo_paths"


def test_the_hook_changes_the_template_once_however_often_a_dist_is_built(hook, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    template = tmp_path / "templates" / "AndroidManifest.tmpl.xml"
    template.parent.mkdir()
    template.write_text(TEMPLATE)
    hook.before_apk_build(None)
    once = template.read_text()
    hook.before_apk_build(None)
    assert template.read_text() == once == hook.with_provider(TEMPLATE)


def test_no_journal_goes_to_another_phone_by_itself(hook, spec):
    """It would come with its device's name. Source: developer.android.com/about/versions/12/backup-restore."""
    assert not spec.getboolean("android.allow_backup")
    manifest = hook.with_provider(TEMPLATE).replace("{{ args.package }}", "org.countback.countback")
    (application,) = ElementTree.fromstring(manifest).findall("application")
    assert application.get(ANDROID + "dataExtractionRules") == "@xml/backup_rules"
    assert application.get(ANDROID + "label") == "@string/app_name"
    source = spec["android.add_resources"].split(",")[1].split(":")[0]
    rules = ElementTree.parse(ROOT / source).getroot()
    assert {way.tag for way in rules} == {"cloud-backup", "device-transfer"}
    for way in rules:
        left_out = {one.get("domain") for one in way.findall("exclude") if one.get("path") == "."}
        assert left_out == {"root", "file", "database", "sharedpref", "external"}
        assert not way.findall("include")


def test_a_template_without_an_application_stops_the_build(hook):
    with pytest.raises(ValueError, match="provider cannot be put in"):
        hook.with_provider("<manifest/>")


def test_the_specification_names_files_that_are_there(spec, hook):
    resources = dict(one.split(":") for one in spec["android.add_resources"].split(","))
    assert all((ROOT / source).is_file() for source in resources)
    assert list(resources.values()) == ["xml/photo_paths.xml", "xml/backup_rules.xml"]
    assert (ROOT / spec["p4a.hook"]).is_file()
    assert spec["android.gradle_dependencies"].startswith("androidx.core:core:")
    assert spec.getboolean("android.enable_androidx")
    assert int(spec["android.api"]) >= 28  # buildozer: android.enable_androidx requires android.api >= 28


def test_only_awaited_photos_and_what_is_shared_are_handed_out(spec):
    source = spec["android.add_resources"].split(",")[0].split(":")[0]
    paths = ElementTree.parse(ROOT / source).getroot()
    assert [(path.tag, path.get("path")) for path in paths] == [
        ("files-path", f"{folder}/") for folder in (FOLDER, *SHARED)]  # fmt: skip


def test_no_camera_permission_is_named_for_then_it_would_have_to_be_granted(spec):
    assert "CAMERA" not in spec["android.permissions"]
