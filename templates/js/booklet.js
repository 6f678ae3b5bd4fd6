// One screen at a time, ticks that stay, drawings that enlarge, day and night. Without this script the plan is one long page.
(() => {
  'use strict';
  const find = (id) => document.getElementById(id);
  const screens = [...document.querySelectorAll('.screen')];
  const name = 'drawleaf:' + document.body.dataset.booklet;

  // What is kept stays on this device. Where the browser keeps nothing, all still works until the page is closed.
  const kept = (() => {
    try { return JSON.parse(localStorage.getItem(name)) || {}; } catch { return {}; }
  })();
  const keep = () => {
    try { localStorage.setItem(name, JSON.stringify(kept)); } catch { /* private window */ }
  };
  kept.ticks = kept.ticks || {};

  // Ticks
  const boxes = [...document.querySelectorAll('input[data-tick]')];
  for (const box of boxes) {
    box.checked = Boolean(kept.ticks[box.dataset.tick]);
    box.addEventListener('change', () => {
      if (box.checked) kept.ticks[box.dataset.tick] = 1; else delete kept.ticks[box.dataset.tick];
      keep();
    });
  }
  const clear = find('clear');
  if (clear) {
    clear.hidden = false;
    clear.addEventListener('click', () => {
      if (!window.confirm('Clear every tick in this plan?')) return;
      kept.ticks = {};
      for (const box of boxes) box.checked = false;
      keep();
    });
  }

  // Screens
  let here = 0;
  const steps = screens.filter((screen) => screen.dataset.step).length;
  const label = (screen) => screen.dataset.step ? `Step ${screen.dataset.step} of ${steps}` : screen.dataset.name;
  const show = (index, target) => {
    here = Math.max(0, Math.min(screens.length - 1, index));
    screens.forEach((screen, i) => screen.classList.toggle('shown', i === here));
    find('place').textContent = label(screens[here]);
    find('back').disabled = here === 0;
    find('next').disabled = here === screens.length - 1;
    kept.here = screens[here].id;
    keep();
    if (target && target !== screens[here]) target.scrollIntoView(); else window.scrollTo(0, 0);
  };
  const screenOf = (target) => {
    const outer = target.closest('.screen') || target.querySelector('.screen');
    return screens.indexOf(outer);
  };
  const go = (index) => {
    if (index < 0 || index >= screens.length || index === here) return;
    history.pushState(null, '', '#' + screens[index].id);
    show(index);
  };
  const follow = () => {
    const target = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const index = target ? screenOf(target) : -1;
    if (index >= 0) show(index, target);
    return index >= 0;
  };
  document.documentElement.classList.add('paged');
  document.querySelector('.bottom').hidden = false;
  find('back').addEventListener('click', () => go(here - 1));
  find('next').addEventListener('click', () => go(here + 1));
  window.addEventListener('hashchange', follow);
  window.addEventListener('popstate', follow);
  if (!follow()) show(Math.max(0, screens.findIndex((screen) => screen.id === kept.here)));

  // Drawings: the picture itself moves into the frame and back, so that there is never a second one of the same name
  const zoom = find('zoom');
  const field = zoom.querySelector('.zoom-field');
  let picture = null, home = null, scale = 1;
  const size = () => { if (picture) picture.style.width = `${scale * 100}%`; };
  const enlarge = (svg) => {
    picture = svg;
    home = document.createComment('');
    svg.replaceWith(home);
    field.append(svg);
    scale = 1;
    size();
    zoom.showModal();
  };
  const rescale = (factor) => { scale = Math.max(1, Math.min(6, scale * factor)); size(); };
  zoom.addEventListener('close', () => {
    if (!picture) return;
    picture.style.width = '';
    home.replaceWith(picture);
    picture = home = null;
  });
  find('smaller').addEventListener('click', () => rescale(1 / 1.5));
  find('larger').addEventListener('click', () => rescale(1.5));
  find('shut').addEventListener('click', () => zoom.close());
  field.addEventListener('dblclick', () => rescale(scale > 2 ? 1 / scale : 2));
  for (const frame of document.querySelectorAll('.drawing-frame')) {
    const svg = frame.querySelector('svg');
    if (!svg) continue;
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'enlarge';
    button.textContent = 'Enlarge';
    button.addEventListener('click', () => enlarge(svg));
    svg.addEventListener('click', () => { if (!zoom.open) enlarge(svg); });
    svg.after(button);
  }

  // Keys
  document.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (zoom.open) {
      if (event.key === '+') rescale(1.5);
      if (event.key === '-') rescale(1 / 1.5);
      return;
    }
    if (event.key === 'ArrowRight' || event.key === 'PageDown') { event.preventDefault(); go(here + 1); }
    if (event.key === 'ArrowLeft' || event.key === 'PageUp') { event.preventDefault(); go(here - 1); }
    if (event.key === 'Home') go(0);
    if (event.key === 'End') go(screens.length - 1);
  });

  // Day and night
  const root = document.documentElement;
  const light = find('light');
  const dark = () => root.dataset.light ? root.dataset.light === 'night' : matchMedia('(prefers-color-scheme: dark)').matches;
  const name_light = () => { light.textContent = dark() ? 'Day' : 'Night'; };
  if (kept.light) root.dataset.light = kept.light;
  light.hidden = false;
  name_light();
  light.addEventListener('click', () => {
    kept.light = root.dataset.light = dark() ? 'day' : 'night';
    keep();
    name_light();
  });
})();
