// Day and night, the size of lettering, and a screen that stays on.
(() => {
  'use strict';
  const { find, all, root, kept, keep } = booklet;
  const sheet = find('screen-sheet');
  find('screen-open').hidden = false;
  find('screen-open').addEventListener('click', () => sheet.showModal());
  find('screen-shut').addEventListener('click', () => sheet.close());

  // A choice among some, told to the style sheet as an attribute of the page
  for (const name of ['light', 'lettering']) {
    const choices = all(`input[name=${name}]`);
    const set = () => { if (kept[name]) root.dataset[name] = kept[name]; else delete root.dataset[name]; };
    for (const one of choices) {
      one.checked = one.value === (kept[name] || '');
      one.addEventListener('change', () => { kept[name] = one.value; keep(); set(); });
    }
    set();
  }

  // The lock ends whenever the page goes out of sight (W3C Screen Wake Lock), so it is asked for anew.
  const awake = find('awake'), told = find('awake-told');
  if (!('wakeLock' in navigator)) return;
  find('awake-line').hidden = false;
  let lock = null;
  const follow = async () => {
    told.textContent = '';
    if (!awake.checked) { await lock?.release(); lock = null; return; }
    if (document.visibilityState !== 'visible') return;
    try { lock = await navigator.wakeLock.request('screen'); } catch { told.textContent = 'The device does not allow it now, perhaps to save its battery.'; }
  };
  awake.checked = Boolean(kept.awake);
  awake.addEventListener('change', () => { kept.awake = awake.checked ? 1 : 0; keep(); follow(); });
  document.addEventListener('visibilitychange', () => { if (awake.checked) follow(); });
  if (awake.checked) follow();
})();
