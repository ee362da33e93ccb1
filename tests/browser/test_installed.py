"""Over the hatchery's own certificate: today's work opens without network, for one person only."""

import pytest

from protoconch.records.models import Entry

pytestmark = pytest.mark.browser
READY = """async () => {
  await navigator.serviceWorker.ready;
  const store = await caches.open('pages');
  const kept = (await store.keys()).map((one) => new URL(one.url).pathname);
  return ['/', '/log/add', '/log/add/read', '/carried/'].every((one) => kept.includes(one));
}"""


@pytest.fixture
def begun(transactional_db, planned_site, crew):
    return planned_site


def until(page, told):
    """Wait until a script of the page says yes; a promise is true before it is kept."""
    for _ in range(150):
        if page.evaluate(told):
            return
        page.wait_for_timeout(100)
    raise AssertionError(told)


def test_today_opens_without_network_and_signing_out_leaves_nothing(
    begun, secure, phone, crew, faults_of_page
):
    own = phone("crew A's", secure.url, secure.trusted)
    page = own.opened(crew)
    page.goto("/")
    until(page, READY)
    page.reload()
    page.get_by_text("Installed: the work of today opens without network.").wait_for()
    title = page.locator("h1").inner_text()
    own.closed()

    page = own.opened()
    page.context.set_offline(True)
    page.goto("/")
    assert page.locator("h1").inner_text() == title
    page.get_by_text("No network. This page is as it was on").wait_for()
    assert faults_of_page(page) == []
    page.goto("/log/add/read?where=reservoir")
    page.get_by_label("Quantity that was read").select_option("temperature")
    page.get_by_label("Place").fill("reservoir")
    page.get_by_label("Value that was read").fill("28.6")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Kept on this phone.").wait_for()
    assert page.locator("#carried a").inner_text() == "One entry waits on this phone."

    page.context.set_offline(False)
    page.locator("#carried a").wait_for(state="hidden")
    assert Entry.objects.get(kind="read").payload["value"] == 28.6
    page.goto("/me/")
    page.get_by_role("button", name="Sign out here").click()
    page.wait_for_url("**/sign-in/")
    until(page, "async () => !(await caches.has('pages'))")
    page.context.set_offline(True)
    with pytest.raises(Exception, match=r"ERR_INTERNET_DISCONNECTED|ERR_FAILED"):
        page.goto("/")
