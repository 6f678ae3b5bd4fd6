// The preview's page: shows the booklet, swaps in what is new without losing the place, tells what is to mend, finds source lines.
import * as paper from './pages.js';
const find = (id) => document.getElementById(id);
const pages = find('pages');
const side = find('side');
let frame = null;      // the booklet that is read
let coming = null;     // the next one, still loading unseen
let shownVersion = 0;
let state = { remarks: [], owed: [] };
let turning = null;

const make = (tag, words = '', className = '') => {
  const made = document.createElement(tag);
  made.textContent = words;
  if (className) made.className = className;
  return made;
};
const post = (address, what) => fetch(address, {
  method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(what),
}).catch(() => {});

// Panel
const panels = ['mend', 'source', 'turning'];
const open = (name) => {
  side.hidden = !name;
  for (const one of panels) {
    find(`panel-${one}`).hidden = one !== name;
    find(`tab-${one}`).setAttribute('aria-selected', String(one === name));
  }
  if (name === 'turning') startTurning();
  tellFirst();
};
const isOpen = (name) => !side.hidden && !find(`panel-${name}`).hidden;
for (const name of panels) find(`tab-${name}`).addEventListener('click', () => open(isOpen(name) ? '' : name));
find('shut').addEventListener('click', () => open(''));
document.querySelector('.tabs').addEventListener('keydown', (event) => {
  const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!step) return;
  const tabs = panels.map((name) => find(`tab-${name}`)).filter((tab) => !tab.hidden);
  tabs[(tabs.indexOf(document.activeElement) + step + tabs.length) % tabs.length].focus();
});

// Source lines, with what is meant marked
const quoted = (lines, first, line, column, length) => {
  const pre = make('pre');
  // The lines stand as far to the left as they can; what is meant wraps, what stands about it is cut short.
  const indent = Math.min(...lines.filter((text) => text.trim()).map((text) => text.length - text.trimStart().length), Math.max(0, column - 1));
  const spare = Number.isFinite(indent) ? indent : 0;
  lines.forEach((whole, index) => {
    const number = first + index, text = whole.slice(spare);
    const row = make('div', '', number === line ? 'row meant' : 'row');
    row.append(make('span', String(number), 'number'));
    const words = make('code');
    if (number === line) {
      const from = Math.max(0, column - 1 - spare);
      words.append(text.slice(0, from), make('mark', text.slice(from, from + Math.max(1, length)) || ' '), text.slice(from + Math.max(1, length)));
    } else words.append(text || ' ');
    row.append(words);
    pre.append(row);
  });
  return pre;
};

const FIRST = find('wait').textContent;
const remark = (one) => {
  // Laid out as the terminal lays it out: place, what is amiss, code; the line; cause; mend.
  const box = make('div', '', `remark ${one.severity}`);
  const kind = one.severity === 'error' ? 'to mend' : 'advice';
  box.append(make('p', one.file ? `${one.file}, line ${one.line}, ${kind}:` : `${kind}:`, 'where'));
  const head = make('h3', `${one.message} `);
  head.append(make('span', `(${one.code})`, 'code'));
  box.append(head);
  if (one.text) box.append(quoted([one.text], one.line, one.line, one.column, one.length));
  if (one.cause) box.append(make('p', `Cause: ${one.cause}`));
  if (one.mend) box.append(make('p', `Mend: ${one.mend}`));
  return box;
};
// What stops the pages is told above them, with nothing to open: the first thing to mend, and how many follow.
// What is told already stays as it stands: a word that is marked or a button in focus is not taken away.
const standing = new Map();
const isTold = (box, what) => {
  const now = JSON.stringify(what), before = standing.get(box);
  standing.set(box, now);
  return now === before;
};
const tellFirst = () => {
  const first = find('first');
  const [one, ...more] = state.failed ? state.remarks.filter((any) => any.severity === 'error') : [];
  first.hidden = !one || isOpen('mend');
  if (isTold(first, [one ?? null, more.length])) return;
  first.replaceChildren();
  if (!one) return;
  first.append(remark(one));
  if (more.length) {
    const button = make('button', `${more.length} more to mend`);
    button.type = 'button';
    button.addEventListener('click', () => { open('mend'); tellFirst(); });
    first.append(button);
  }
};
const tellRemarks = () => {
  const panel = find('panel-mend'), stale = Boolean(state.failed && state.version);
  if (!isTold(panel, [stale, state.remarks])) {
    panel.replaceChildren();
    if (stale) panel.append(make('p', 'The pages show the last good version until this is mended and saved.', 'calm'));
    for (const one of state.remarks) panel.append(remark(one));
    if (!state.remarks.length) panel.append(make('p', 'Nothing to mend.'));
  }
  const errors = state.remarks.filter((one) => one.severity === 'error').length;
  find('tab-mend').textContent = `To mend (${state.remarks.length})`;
  const status = find('status');
  status.classList.toggle('bad', state.failed);
  find('wait')?.replaceChildren(state.failed ? 'There is no page to show yet. Mend what the panel tells, and save: the pages come by themselves.' : FIRST);
  if (state.failed) {
    status.textContent = errors === 1 ? '1 thing to mend' : `${errors} things to mend`;
    if (state.version) status.append(make('span', '; the pages show the last good version', 'wide-only'));
  } else if (state.busy) status.textContent = state.owed.length ? `${state.owed.length} drawings to come…` : 'Working…';
  else if (state.version) status.textContent = 'Up to date';
  if (state.named) { find('named').textContent = state.named; document.title = `${state.named} · preview`; }
  tellFirst();
};

// The booklet. The next version loads unseen, is brought to the place that is read, and only then shown.
const bookletOf = (one) => one.contentDocument;
const screenOf = (one) => bookletOf(one)?.querySelector('.screen.shown')?.id;
const load = (version) => {
  if (coming) coming.remove();
  coming = document.createElement('iframe');
  coming.title = 'Booklet';
  // Another edition keeps its place under another name: the page that is read is told along.
  const read = frame && screenOf(frame);
  coming.src = `booklet?version=${version}${read ? `#${encodeURIComponent(read)}` : ''}`;
  coming.addEventListener('load', () => arrive(coming, version), { once: true });
  pages.append(coming);
};
const arrive = (next, version) => {
  if (next !== coming) return;
  const old = frame;
  if (old && bookletOf(old).querySelector('dialog[open]')) {
    bookletOf(old).querySelector('dialog[open]').addEventListener('close', () => arrive(next, version), { once: true });
    return;
  }
  coming = null;
  prepare(next);
  if (old) {
    const there = screenOf(old), down = old.contentWindow.scrollY;
    if (there !== screenOf(next) && bookletOf(next).getElementById(there)) {
      // The page was turned while the next version was on its way.
      next.contentWindow.addEventListener('hashchange', () => next.contentWindow.scrollTo(0, down), { once: true });
      next.contentWindow.location.hash = there;
    } else next.contentWindow.scrollTo(0, down);
    next.classList.add('shown');
    if (document.activeElement === old) next.focus();
    old.remove();
  } else {
    pages.querySelector('.wait')?.remove();
    next.classList.add('shown');
  }
  frame = next;
  shownVersion = version;
  document.documentElement.dataset.version = version;
  markOwed();
  tellShown();
  if (isOpen('turning')) turning?.then((view) => view.renew());
  if (isOpen('source') && lastAsked) showSource(lastAsked);
};
const markOwed = () => {
  if (!frame) return;
  for (const svg of bookletOf(frame).querySelectorAll('svg[data-drawing]')) {
    const waits = state.owed.includes(svg.dataset.drawing);
    svg.style.opacity = waits ? '0.45' : '';
    if (waits) svg.setAttribute('aria-busy', 'true'); else svg.removeAttribute('aria-busy');
  }
};
const showFirst = (drawings) => {
  // Until there is a page, the picture of the piece is the best there is.
  const wait = pages.querySelector('.wait');
  const [text] = Object.values(drawings);
  if (frame || !wait || !text) return;
  wait.querySelector('svg')?.remove();
  wait.prepend(document.importNode(new DOMParser().parseFromString(text, 'text/html').querySelector('svg'), true));
};
const exchange = (drawings) => {
  showFirst(drawings);
  for (const one of [frame, coming]) {
    const booklet = one && bookletOf(one);
    if (!booklet) continue;
    for (const svg of booklet.querySelectorAll('svg[data-drawing]')) {
      const text = drawings[svg.dataset.drawing];
      if (!text) continue;
      const fresh = new DOMParser().parseFromString(text, 'text/html').querySelector('svg');
      svg.setAttribute('viewBox', fresh.getAttribute('viewBox'));
      svg.setAttribute('aria-label', fresh.getAttribute('aria-label'));
      svg.dataset.width = fresh.dataset.width;
      svg.replaceChildren(...fresh.childNodes);
      svg.style.opacity = '';
      svg.removeAttribute('aria-busy');
    }
  }
  document.documentElement.dataset.drawn = String(performance.now());
};

// Which drawings stand before the eyes: those are made first
let told = '';
const tellShown = () => {
  if (!frame) return;
  paper.follow(screenOf(frame));
  const high = frame.contentWindow.innerHeight;
  const seen = [...bookletOf(frame).querySelectorAll('.screen.shown svg[data-drawing], dialog svg[data-drawing]')].filter((svg) => {
    const box = svg.getBoundingClientRect();
    return box.height > 0 && box.bottom > 0 && box.top < high;
  }).map((svg) => svg.dataset.drawing);
  if (seen.join() === told) return;
  told = seen.join();
  post('shown', seen);
};
let timer = 0;
const tellShownSoon = () => { clearTimeout(timer); timer = setTimeout(tellShown, 150); };

// From a click to its source line
const textAt = (text) => {
  // The runs of one figure (whole number, fraction) stand next to one another in the drawing and in its text.
  const all = [...text.ownerSVGElement.querySelectorAll('text')];
  const size = (one) => Number(one.getAttribute('font-size'));
  const near = (a, b) => a && b && Math.hypot(a.getAttribute('x') - b.getAttribute('x'), a.getAttribute('y') - b.getAttribute('y')) < 1.3 * size(a)
    && (a.getAttribute('transform') || '').split(' ')[0] === (b.getAttribute('transform') || '').split(' ')[0];
  const figure = (one) => /^[−\d]+$/.test(one.textContent);
  let from = all.indexOf(text), to = from;
  while (near(all[from - 1], all[from]) && figure(all[from - 1])) from -= 1;
  while (near(all[to], all[to + 1]) && figure(all[to + 1])) to += 1;
  const runs = all.slice(from, to + 1).map((one) => one.textContent);
  if (runs.length === 3) return `${runs[0]}-${runs[1]}/${runs[2]}`;
  if (runs.length === 2) return `${runs[0]}/${runs[1]}`;
  return text.textContent;
};
const onPaper = (svg, event) => {
  // Where in the drawing a click falls, in millimetres on its paper
  const matrix = svg.getScreenCTM()?.inverse();
  if (!matrix || !event) return {};
  return { x: matrix.a * event.clientX + matrix.c * event.clientY + matrix.e, y: matrix.b * event.clientX + matrix.d * event.clientY + matrix.f };
};
const textNear = (svg, event) => {
  // A finger is wider than a figure: what is written close by is meant too.
  if (!event || (!event.clientX && !event.clientY)) return null;
  const reach = 5;
  let nearest = null, least = reach;
  for (const one of svg.querySelectorAll('text')) {
    const box = one.getBoundingClientRect();
    const off = Math.hypot(Math.max(box.left - event.clientX, 0, event.clientX - box.right), Math.max(box.top - event.clientY, 0, event.clientY - box.bottom));
    if (off < least) { least = off; nearest = one; }
  }
  return nearest;
};
const whatIs = (target, event) => {
  const svg = target.closest('svg[data-drawing]');
  if (svg) {
    const text = target.closest('text') || textNear(svg, event);
    const upright = /rotate\(-?90/.test(text?.getAttribute('transform') || '');
    return { what: `drawing:${svg.dataset.drawing}`, said: text ? textAt(text) : '', upright, ...onPaper(svg, event) };
  }
  const row = target.closest('[id^="cut-"], [id^="part-"]');
  if (row) return { what: `part:${row.id.split('-')[1]}`, said: '' };
  const step = target.closest('[id^="step-"]');
  if (step) return { what: `step:${step.id.slice(5)}`, said: '' };
  return null;
};
let lastAsked = null;  // to be asked again when the source has changed
const showSource = async (asked) => {
  const answer = await fetch(`source?${new URLSearchParams({ said: '', ...asked })}`).then((got) => got.json()).catch(() => null);
  if (!answer || !answer.places.length) return false;
  lastAsked = answer.body ? { what: `body:${answer.body}` } : asked;
  const box = find('source');
  box.replaceChildren(make('h2', answer.title));
  for (const one of answer.places) {
    const place = make('div', '', 'place');
    place.append(make('h3', one.words), make('p', `${one.file}, line ${one.line}`, 'where'));
    place.append(quoted(one.text, one.first, one.line, one.column, one.length));
    box.append(place);
  }
  return true;
};
let passing = false;  // a click that is left to the booklet
const clicked = (event) => {
  const target = event.target;
  const svg = target.closest('svg[data-drawing]');
  if (passing || target.closest('a, button, input, select, label') || (target.closest('dialog') && !svg)) return;
  const found = whatIs(target, event);
  if (!found) return;
  event.stopPropagation();
  hideName();
  showSource(found).then((some) => {
    if (some) open('source');
    else if (svg && !isOpen('source') && !svg.closest('dialog')) {
      // Bare paper: the drawing enlarges, as it does for the buyer.
      passing = true;
      svg.dispatchEvent(new MouseEvent('click', { bubbles: true }));
      passing = false;
    }
  });
};
const byKey = (event) => {
  if (event.key !== 's' || event.altKey || event.ctrlKey || event.metaKey || event.target.closest('input, select')) return;
  const booklet = frame && bookletOf(frame);
  const screen = booklet?.querySelector('.screen.shown');
  if (!screen) return;
  const drawing = booklet.querySelector('dialog[open] svg[data-drawing]') || screen.querySelector('svg[data-drawing]');
  const found = screen.id.startsWith('step-') ? whatIs(screen) : drawing ? whatIs(drawing) : { what: 'plan:' };
  showSource({ ...found, whole: true }).then((some) => { if (some) { open('source'); side.focus(); } });
};

// The name of the part under the pointer
const tip = find('tip');
let asking = 0, rest = 0;
const hideName = () => { clearTimeout(rest); asking += 1; tip.hidden = true; };
const tellName = async (svg, event) => {
  const mine = ++asking;
  const { x, y } = onPaper(svg, event);
  const name = await fetch(`name?${new URLSearchParams({ drawing: svg.dataset.drawing, x, y })}`).then((got) => got.json()).catch(() => '');
  if (mine !== asking) return;
  tip.hidden = !name;
  if (!name) return;
  tip.textContent = name;
  const box = frame.getBoundingClientRect();
  const left = Math.min(box.left + event.clientX + 14, window.innerWidth - tip.offsetWidth - 6);
  const under = box.top + event.clientY + 20;
  tip.style.left = `${Math.max(6, left)}px`;
  tip.style.top = `${under + tip.offsetHeight < window.innerHeight ? under : under - tip.offsetHeight - 30}px`;
};
let pointer = null;  // where a mouse rests in the booklet
const tellNameSoon = () => {
  hideName();
  const at = pointer;
  if (!at) return;
  rest = setTimeout(() => {
    const svg = frame && bookletOf(frame).elementFromPoint(at.clientX, at.clientY)?.closest('svg[data-drawing]');
    if (svg) tellName(svg, at);
  }, 90);
};
const hovered = ({ pointerType, buttons, clientX, clientY }) => {
  pointer = pointerType === 'touch' || buttons ? null : { clientX, clientY };
  tellNameSoon();
};
const byEscape = (event) => {
  if (event.key !== 'Escape' || side.hidden || (frame && bookletOf(frame).querySelector('dialog[open]'))) return;
  open('');
  frame?.focus();
};
const prepare = (one) => {
  const booklet = bookletOf(one);
  // The booklet's own bar gives way: its buttons stand among the preview's.
  booklet.documentElement.dataset.held = 'yes';
  find('of-booklet').hidden = false;
  booklet.addEventListener('click', clicked, true);
  booklet.addEventListener('pointermove', hovered, { passive: true });
  booklet.documentElement.addEventListener('pointerleave', () => { pointer = null; hideName(); });
  booklet.addEventListener('keydown', byKey);
  booklet.addEventListener('keydown', byEscape);
  one.contentWindow.addEventListener('scroll', () => { tellNameSoon(); tellShownSoon(); }, { passive: true });
  new MutationObserver(tellShownSoon).observe(booklet.getElementById('booklet'), { subtree: true, attributeFilter: ['class'] });
};
document.addEventListener('keydown', (event) => {
  byEscape(event);
  byKey(event);
});

// The turning view is loaded when it is first wanted
const startTurning = () => {
  turning ||= import('./turning.js').then((module) => module.start(find('scene'), find('apart'), (body) => {
    find('picked').textContent = body.name;
    showSource({ what: `body:${body.id}`, said: '' }).then((some) => { if (some) find('picked').append(' ', sourceButton()); });
  }));
  turning.then((view) => view.renew());
};
const sourceButton = () => {
  const button = make('button', 'Show its lines');
  button.type = 'button';
  button.addEventListener('click', () => open('source'));
  return button;
};
if (document.body.dataset.turning === 'no') find('tab-turning').hidden = true;

// Buttons of the booklet, and the printed pages beside it
for (const button of document.querySelectorAll('[data-press]')) {
  button.addEventListener('click', () => {
    if (!frame) return;
    if (button.dataset.press === 'contents') frame.contentWindow.location.hash = 'contents';
    else bookletOf(frame).getElementById(button.dataset.press)?.click();
  });
}
paper.start(post, (begun, before) => {
  const screens = frame && bookletOf(frame);
  const name = [...begun, ...before].find((one) => screens?.getElementById(one)?.matches('.screen'));
  if (name) frame.contentWindow.location.hash = name;
});

// Editions
const editions = find('edition');
const tellEditions = () => fetch('editions').then((got) => got.json()).then(({ names, now }) => {
  if (now && !names.includes(now)) names.push(now);
  if (document.activeElement !== editions || names.length + 1 !== editions.options.length) {
    editions.replaceChildren(new Option('as written', ''), ...names.map((name) => new Option(name, name)));
  }
  editions.value = now || '';
  editions.parentElement.hidden = !names.length;
}).catch(() => {});
tellEditions();
editions.addEventListener('change', () => post('edition', editions.value || null));

// News
const news = new EventSource('news');
news.addEventListener('state', (event) => {
  const before = state;
  state = JSON.parse(event.data);
  if (before.run && before.run !== state.run) { location.reload(); return; }  // another preview answers now
  tellRemarks();
  if (before.busy && !state.busy) tellEditions();
  if (!state.failed && before.failed && isOpen('mend')) open('');
  if (state.version && state.version !== shownVersion) { if (state.version !== before.version || !frame) load(state.version); }
  else markOwed();
});
news.addEventListener('printed', (event) => paper.tell(JSON.parse(event.data)));
news.addEventListener('drawings', (event) => exchange(JSON.parse(event.data)));
news.addEventListener('error', () => {
  find('status').replaceChildren('The preview has stopped', make('span', ': start it again to go on', 'wide-only'));
});
