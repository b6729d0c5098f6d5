// What the files of the page share: what this browser keeps between visits (one that keeps nothing is asked in vain), and a start
// for each place once.

const stored = (name) => { try { return localStorage.getItem(name) ?? ""; } catch { return ""; } };
const store = (name, value) => { try { localStorage.setItem(name, value); return true; } catch { return false; } };
const each = (places, work) => {
  for (const place of document.querySelectorAll(`${places}:not([data-started])`)) {
    place.dataset.started = "";
    work(place);
  }
};
