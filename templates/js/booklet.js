// One screen at a time, and ticks that stay. Without scripts the plan is one long page.
const booklet = (() => {
  'use strict';
  const find = (id) => document.getElementById(id);
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const targetOf = (address) => find(decodeURIComponent(address.hash.slice(1)));
  const root = document.documentElement;
  const screens = all('.screen');
  const steps = screens.filter((screen) => screen.dataset.step);
  const name = 'drawleaf:' + document.body.dataset.booklet;

  // What is kept stays on this device, for this revision of the plan. Where the browser keeps nothing, all still works until the page is closed.
  const kept = (() => {
    try { return JSON.parse(localStorage.getItem(name)) || {}; } catch { return {}; }
  })();
  const keep = () => {
    try { localStorage.setItem(name, JSON.stringify(kept)); } catch { /* private window */ }
  };
  kept.ticks = kept.ticks || {};

  // Ticks, and how far along each screen is
  const boxes = all('input[data-tick]');
  const inside = new Map(screens.map((screen) => [screen, all('input[data-tick]', screen)]));
  const ticked = (some) => some.filter((box) => box.checked).length;
  const finished = (screen) => inside.get(screen).length > 0 && ticked(inside.get(screen)) === inside.get(screen).length;
  const amount = (done, of) => done === 0 ? '' : done === of ? '✓' : `${done} of ${of}`;
  const lines = all('.contents nav a').map((link) => {
    const told = document.createElement('span');
    told.className = 'so-far-line';
    link.append(told);
    const target = targetOf(link);
    const row = link.parentElement;
    let of = [];
    if (row.classList.contains('stage-line')) {
      for (let next = row.nextElementSibling; next?.classList.contains('step-line'); next = next.nextElementSibling) {
        of.push(targetOf(next.querySelector('a')));
      }
    } else if (target?.id === 'steps') of = steps;
    else if (target && inside.has(target)) of = [target];
    return { told, of: of.filter((one) => inside.get(one)?.length), whole: of.length > 1 };
  });
  const soFar = find('so-far');
  const onward = document.createElement('a');
  const tellProgress = () => {
    for (const { told, of, whole } of lines) {
      const some = whole ? of.filter(finished).length : ticked(of.flatMap((one) => inside.get(one)));
      told.textContent = amount(some, whole ? of.length : of.flatMap((one) => inside.get(one)).length);
    }
    const done = steps.filter(finished).length;
    find('progress').firstElementChild.style.width = steps.length ? `${100 * done / steps.length}%` : '0';
    if (soFar && steps.length) {
      const to = steps.find((step) => !finished(step));
      soFar.hidden = false;
      soFar.textContent = `${done} of ${steps.length} steps done. `;
      if (to) {
        onward.href = '#' + to.id;
        onward.textContent = `Go to step ${to.dataset.step}`;
        soFar.append(onward);
      }
    }
    const here = inside.get(screens[at]);
    find('done').textContent = here?.length ? `${ticked(here)} of ${here.length} ticked` : '';
    for (const list of all('.actions')) {
      const open = all('li', list).find((one) => !one.querySelector('input')?.checked);
      const begun = all('input:checked', list).length > 0;
      for (const one of list.children) one.classList.toggle('now', begun && one === open);
    }
  };
  for (const box of boxes) {
    box.checked = Boolean(kept.ticks[box.dataset.tick]);
    box.addEventListener('change', () => {
      if (box.checked) kept.ticks[box.dataset.tick] = 1; else delete kept.ticks[box.dataset.tick];
      keep();
      tellProgress();
      if (box.checked) box.closest('.actions')?.querySelector('.now')?.scrollIntoView({ block: 'nearest' });
    });
  }
  find('clear').addEventListener('click', () => {
    if (!window.confirm('Clear every tick in this plan?')) return;
    kept.ticks = {};
    for (const box of boxes) box.checked = false;
    keep();
    tellProgress();
  });
  // A finger with glue on it needs more than a box: a tap on the words of an action ticks it as well.
  for (const said of all('.actions .said')) {
    said.addEventListener('click', (event) => {
      if (event.target.closest('a, button, input') || !getSelection().isCollapsed) return;
      said.parentElement.querySelector('input').click();
    });
  }

  // Screens. What is not shown can still be found by the browser's own search, where it knows how (hidden="until-found").
  let at = 0;
  const findable = 'onbeforematch' in document.body;
  const label = (screen) => screen.dataset.step ? `Step ${screen.dataset.step} of ${document.body.dataset.steps || steps.length}` : screen.dataset.name;
  const show = (index, target) => {
    at = Math.max(0, Math.min(screens.length - 1, index));
    screens.forEach((screen, i) => {
      screen.classList.toggle('shown', i === at);
      if (findable) { if (i === at) screen.removeAttribute('hidden'); else screen.setAttribute('hidden', 'until-found'); }
    });
    find('place').textContent = label(screens[at]);
    find('back').disabled = at === 0;
    find('next').disabled = at === screens.length - 1;
    kept.here = screens[at].id;
    keep();
    tellProgress();
    document.dispatchEvent(new CustomEvent('screen', { detail: screens[at] }));
    if (target && target !== screens[at]) target.scrollIntoView(); else window.scrollTo(0, 0);
  };
  const screenOf = (target) => screens.indexOf(target.closest('.screen') || target.querySelector('.screen'));
  const go = (index) => {
    if (index < 0 || index >= screens.length || index === at) return;
    history.pushState(null, '', '#' + screens[index].id);
    show(index);
  };
  const follow = () => {
    const target = targetOf(location);
    const index = target ? screenOf(target) : -1;
    if (index >= 0) show(index, target);
    return index >= 0;
  };
  // A link out of a step leads away from the work: one press leads back.
  const back = find('return');
  let from = null;
  const remember = (screen) => {
    from = screen;
    back.hidden = !from;
    if (from) back.textContent = `Return to step ${from.dataset.step}`;
  };
  const leave = (index) => { if (screens[at].dataset.step && index !== at) remember(screens[at]); };
  document.addEventListener('click', (event) => {
    const link = event.target.closest?.('main a[href^="#"]');
    if (link) leave(screenOf(targetOf(link) || link));
  });
  back.addEventListener('click', () => go(screens.indexOf(from)));
  document.addEventListener('screen', (event) => { if (event.detail === from || event.detail.id === 'contents') remember(null); });

  root.classList.add('paged');
  document.querySelector('.bottom').hidden = false;
  find('back').addEventListener('click', () => go(at - 1));
  find('next').addEventListener('click', () => go(at + 1));
  window.addEventListener('hashchange', follow);
  window.addEventListener('popstate', follow);
  document.addEventListener('beforematch', (event) => {
    const index = screenOf(event.target);
    if (index >= 0 && index !== at) show(index, event.target);
  }, true);
  for (const link of all('main a')) if (link.textContent.trim().length < 9) link.classList.add('short');

  // On a narrow screen the cells of a long table stand below one another, each with the head of its column.
  for (const table of all('table.list:not(.cuts)')) {
    const heads = all('thead th', table).map((head) => head.querySelector('.unseen') ? '' : head.textContent.trim());
    if (heads.length < 4) continue;
    table.classList.add('labelled');
    for (const row of all('tbody tr', table)) {
      const named = row.querySelector('td strong')?.closest('td');
      [...row.children].forEach((cell, i) => { if (row.children.length === heads.length && cell !== named && heads[i] && !cell.querySelector('.balloon')) cell.dataset.head = heads[i]; });
    }
  }

  // The picture of a step stays above its words: what is scrolled to must come to rest below it.
  const measured = new ResizeObserver(() => {
    const sight = screens[at].querySelector('.sight'), doing = screens[at].querySelector('.doing');
    const above = sight && doing && sight.getBoundingClientRect().right > doing.getBoundingClientRect().left + 10;
    root.style.setProperty('--sight', above ? `${sight.offsetHeight}px` : '0px');
  });
  document.addEventListener('screen', (event) => {
    measured.disconnect();
    measured.observe(event.detail.querySelector('.sight') || event.detail);
  });

  // What one needs is folded away where the picture takes half the screen; once opened or folded it stays so.
  const needs = all('details.need');
  const roomy = matchMedia('(min-width: 1000px)');
  const fold = () => { for (const one of needs) one.open = kept.need === undefined ? roomy.matches : Boolean(kept.need); };
  fold();
  roomy.addEventListener('change', fold);
  for (const one of needs) {
    one.querySelector('summary').addEventListener('click', () => { kept.need = one.open ? 0 : 1; keep(); setTimeout(fold); });
  }
  window.addEventListener('beforeprint', () => { for (const one of needs) one.open = true; });
  window.addEventListener('afterprint', fold);

  // Keys: left and right turn the screen, unless something that is written or set has them. All others scroll, as everywhere.
  const ownsArrows = 'input:not([type=checkbox]), select, textarea, [contenteditable], [role=slider], .turn-place';
  document.addEventListener('keydown', (event) => {
    if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (document.querySelector('dialog[open]') || event.target.closest?.(ownsArrows)) return;
    if (event.key === 'ArrowRight') { event.preventDefault(); go(at + 1); }
    if (event.key === 'ArrowLeft') { event.preventDefault(); go(at - 1); }
  });

  // Swipe: one finger, clearly sideways, that does not move something else. From the screen's very edge the device itself goes back.
  let swipe = null;
  const scrollsSideways = (one) => {
    for (; one && one !== document.body; one = one.parentElement) {
      if (one.scrollWidth > one.clientWidth + 4 && /auto|scroll/.test(getComputedStyle(one).overflowX)) return true;
    }
    return false;
  };
  const main = find('booklet');
  main.addEventListener('touchstart', (event) => {
    const [touch, second] = event.touches;
    const edge = touch.clientX < 20 || touch.clientX > innerWidth - 20;
    const free = !second && !edge && (window.visualViewport?.scale || 1) < 1.05 && !event.target.closest('.turn-place, input, select') && !scrollsSideways(event.target);
    swipe = free ? { x: touch.clientX, y: touch.clientY, time: event.timeStamp } : null;
  }, { passive: true });
  main.addEventListener('touchcancel', () => { swipe = null; }, { passive: true });
  main.addEventListener('touchend', (event) => {
    if (!swipe || event.touches.length) { swipe = null; return; }
    const [touch] = event.changedTouches;
    const x = touch.clientX - swipe.x, y = touch.clientY - swipe.y;
    if (Math.abs(x) > 60 && Math.abs(x) > 2 * Math.abs(y) && event.timeStamp - swipe.time < 800) go(at + (x < 0 ? 1 : -1));
    swipe = null;
  }, { passive: true });

  return {
    find, all, root, screens, label, kept, keep, go, leave,
    here: () => at,
    begin: () => { if (!follow()) show(Math.max(0, screens.findIndex((screen) => screen.id === kept.here))); },
  };
})();
booklet.begin();
