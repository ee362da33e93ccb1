// While a plan is being made: load the page again after some seconds, as long as it is looked at.
const waiting = document.querySelector("[data-look-again]");
if (waiting) {
  const again = () => (document.hidden ? setTimeout(again, 2000) : location.reload());
  setTimeout(again, 1000 * Number(waiting.dataset.lookAgain));
}
