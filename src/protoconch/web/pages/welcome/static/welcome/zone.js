// Offers the zone of this browser, where nobody has chosen one.
const zone = document.querySelector("select[name=zone]");
const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
if (zone && zone.value === "UTC" && [...zone.options].some((o) => o.value === here)) zone.value = here;
