// A button at each drawing that can be turned. The flat drawing stays what is first seen and what is printed.
(() => {
  'use strict';
  const { make, button } = Turning;
  const data = document.getElementById('turnable');
  if (!data || !window.WebGLRenderingContext) return;
  const drawn = (id) => document.querySelector(`svg[data-drawing="${id}"]`);

  const start = (svg, place, opener) => {
    const turning = Turning.drawings().get(svg.dataset.drawing);
    if (!turning) return null;
    if (!Turning.renderer()) { opener.hidden = true; return null; }
    opener.hidden = true;
    place.addEventListener('turning-closed', () => { opener.hidden = false; opener.focus({ preventScroll: true }); }, { once: true });
    return new Turning.View(svg, place, turning);
  };

  // Which drawings turn is told by the page itself, so that the data are not read before they are wanted.
  const openers = new Map();
  for (const svg of document.querySelectorAll('svg.drawing')) {
    const id = svg.dataset.drawing, frame = svg.closest('.drawing-frame');
    if (!frame || !data.dataset.drawings.split(' ').includes(id)) continue;
    const found = frame.querySelector('.turn-place'), place = found || make('div', '', { hidden: true });
    place.classList.add('turn-place');
    if (!found) svg.after(place);
    const opener = button('Turn', () => start(svg, place, opener));
    opener.classList.add('turn-open');
    opener.setAttribute('aria-label', 'Turn this picture in three dimensions');
    frame.append(opener);
    openers.set(id, { svg, place, opener });
  }

  // From a piece on a sheet or board to the same part in the piece, and back.
  const sheets = JSON.parse(data.dataset.sheets);
  const wholeId = data.dataset.whole;
  const go = (one) => {
    const target = one.closest('.layout, .screen');
    if (target && target.id) location.hash = target.id;
  };
  const inPiece = (id) => {
    const home = openers.get(wholeId);
    if (!home) return;
    go(home.svg);
    const view = Turning.open() && Turning.open().svg === home.svg ? Turning.open() : start(home.svg, home.place, home.opener);
    if (!view) return;
    view.pick(view.stage.bodies.find((body) => body.data.id === id) || null);
    home.place.scrollIntoView({ block: 'center' });
  };
  // In a step at the saw the part goes from its sheet or board into the piece, in the step's own picture.
  const fromSaw = (id, part) => {
    const { svg, place, opener } = openers.get(id), view = start(svg, place, opener);
    if (!view) return;
    const body = view.stage.bodies.find((one) => one.data.id === part && one.lying);
    view.pick(body || null);
    if (body && body.one.turn !== undefined) view.send(body, 1, () => view.tell(body));
  };
  const onPaper = (svg, event) => {
    const place = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return sheets[svg.dataset.drawing].find(([left, top, right, bottom]) => place.x >= left && place.x <= right && place.y >= top && place.y <= bottom);
  };
  for (const id of Object.keys(sheets)) {
    const svg = drawn(id);
    const own = openers.has(id);
    if (!svg || !(own || openers.has(wholeId))) continue;
    svg.addEventListener('click', (event) => {
      const found = onPaper(svg, event);
      if (!found) return;
      event.stopImmediatePropagation();
      if (own) fromSaw(id, found[4]); else inPiece(found[4]);
    }, { capture: true });
    if (own) continue;
    const choice = make('select', '', { className: 'turn-find' });
    choice.setAttribute('aria-label', 'See a part of this layout in the piece');
    choice.append(make('option', 'See in the piece…', { value: '' }));
    const seen = new Set();
    for (const [, , , , part, name] of sheets[id]) {
      if (seen.has(part)) continue;
      seen.add(part);
      choice.append(make('option', name, { value: part }));
    }
    choice.addEventListener('change', () => { if (choice.value) inPiece(choice.value); choice.value = ''; });
    svg.closest('.drawing-frame').append(choice);
  }
  Turning.sheetLinks = (body) => Object.entries(sheets).filter(([id, boxes]) => !openers.has(id) && boxes.some((one) => one[4] === body.data.id)).map(([id, boxes]) => {
    const svg = drawn(id), words = id.replace('-0', ' ').replace('-', ' ');
    return button(`On ${words}`, () => {
      go(svg);
      svg.querySelectorAll('.turn-mark').forEach((one) => one.remove());
      for (const [left, top, right, bottom] of boxes.filter((one) => one[4] === body.data.id)) {
        const mark = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
        for (const [name, value] of Object.entries({ x: left, y: top, width: right - left, height: bottom - top, class: 'turn-mark' })) mark.setAttribute(name, value);
        svg.append(mark);
      }
      svg.scrollIntoView({ block: 'center' });
    });
  });
})();
