// Finds words on every screen, shown or not, and goes there.
(() => {
  'use strict';
  const { find, all, screens, label, root } = booklet;
  const finder = find('finder'), sought = find('sought'), list = find('found'), told = find('found-told');
  const MOST = 60, AROUND = 60;
  const BLOCKS = 'h1, h2, h3, h4, li, p, tr, figcaption, summary, .said, svg[role=img]';

  // As people type it: small letters, no accents, plain spaces, fractions and quotation marks as on a keyboard.
  const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase()
    .replace(/\u2044/g, '/').replace(/[\u2018\u2019]/g, "'").replace(/[\u201c\u201d\u2033]/g, '"').replace(/\u00d7/g, 'x')
    .replace(/[\u2010-\u2014\u2212]/g, '-').replace(/\s+/g, ' ').replace(/(\d)-(\d+\/)/g, '$1 $2').trim();
  const said = (block) => block.matches('svg') ? block.getAttribute('aria-label') || ''
    : block.matches('tr') ? [...block.children].map((cell) => cell.textContent.trim()).filter(Boolean).join(', ') : block.textContent;
  let blocks = null;
  const gather = () => screens.flatMap((screen, index) => all(BLOCKS, screen)
    .filter((block) => block.matches('svg') || (!block.querySelector('.said, li, p, tr') && !block.closest('svg, nav')))
    .map((block) => ({ block, index, head: block.matches('h1, h2, h3, h4'), words: said(block).replace(/\s+/g, ' ').trim() }))
    .filter((one) => one.words)
    .map((one) => ({ ...one, plain: plain(one.words) })));

  const snippet = (words, asked) => {
    const piece = document.createElement('span');
    const low = words.toLowerCase();
    const first = asked.map((one) => low.indexOf(one)).find((place) => place > 0) || 0;
    const from = words.length > 2 * AROUND + 20 && first > AROUND ? words.indexOf(' ', first - AROUND) : 0;
    const cut = words.slice(from, from + 2 * AROUND + 40).trim();
    piece.append(from ? '… ' : '');
    let rest = cut;
    while (rest) {
      const found = asked.map((one) => [rest.toLowerCase().indexOf(one), one.length]).filter(([place]) => place >= 0).sort((a, b) => a[0] - b[0])[0];
      if (!found) break;
      const mark = document.createElement('mark');
      mark.textContent = rest.slice(found[0], found[0] + found[1]);
      piece.append(rest.slice(0, found[0]), mark);
      rest = rest.slice(found[0] + found[1]);
    }
    piece.append(rest, from + cut.length < words.length ? ' …' : '');
    return piece;
  };
  let pointed = null;
  const goTo = ({ block, index }) => {
    finder.close();
    booklet.leave(index);
    booklet.go(index);
    pointed?.classList.remove('pointed');
    pointed = block.matches('svg') ? block.closest('figure, .stage') || block : block;
    pointed.closest('details')?.setAttribute('open', '');
    pointed.classList.add('pointed');
    pointed.scrollIntoView({ block: pointed.matches('h4, h2') ? 'nearest' : 'center' });
  };
  const look = () => {
    blocks ||= gather();
    const asked = plain(sought.value).split(' ').filter(Boolean);
    list.replaceChildren();
    if (!asked.length) { told.textContent = ''; return; }
    const hits = blocks.filter((one) => asked.every((word) => one.plain.includes(word)));
    hits.sort((a, b) => Number(b.head) - Number(a.head) || a.index - b.index);
    told.textContent = !hits.length ? 'Nothing found.' : hits.length === 1 ? '1 place' : `${hits.length} places${hits.length > MOST ? `, the first ${MOST} shown` : ''}`;
    for (const hit of hits.slice(0, MOST)) {
      const screen = screens[hit.index];
      const line = document.createElement('li'), button = document.createElement('button'), where = document.createElement('strong');
      button.type = 'button';
      where.textContent = screen.dataset.step ? `Step ${screen.dataset.step}: ${screen.dataset.name}` : label(screen);
      button.append(where, snippet(hit.words, asked));
      button.addEventListener('click', () => goTo(hit));
      line.append(button);
      list.append(line);
    }
  };
  const open = () => { finder.showModal(); sought.focus(); sought.select(); };
  find('find-open').hidden = false;
  find('find-open').addEventListener('click', open);
  find('finder-shut').addEventListener('click', () => finder.close());
  sought.addEventListener('input', look);
  sought.addEventListener('keydown', (event) => { if (event.key === 'Enter') list.querySelector('button')?.click(); });
  document.addEventListener('screen', () => { if (pointed && !pointed.closest('.screen.shown')) pointed.classList.remove('pointed'); });
  root.classList.add('finds');
})();
