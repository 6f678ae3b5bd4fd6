// Drawings that enlarge to where the finger or the pointer is, and can be dragged. The picture itself moves into the frame and back, so that
// there is never a second one of the same name.
(() => {
  'use strict';
  const { find, all } = booklet;
  const zoom = find('zoom');
  const field = zoom.querySelector('.zoom-field');
  const MOST = 12, TAP_MS = 350, TAP_PX = 40, STILL_PX = 6;
  let picture = null, home = null;
  let scale = 1, left = 0, top = 0;
  let lastTap = null;
  const fingers = new Map();

  const between = (low, value, high) => Math.max(low, Math.min(high, value));
  const place = () => {
    left = between(field.clientWidth * (1 - scale), left, 0);
    top = between(field.clientHeight * (1 - scale), top, 0);
    picture.style.transform = scale === 1 ? '' : `translate(${left}px, ${top}px) scale(${scale})`;
    field.classList.toggle('moves', scale > 1);
  };
  const zoomTo = (wanted, x, y) => {
    // The point of the drawing that lies under (x, y), in the field, stays there.
    const next = between(1, wanted, MOST);
    left = x - (x - left) * next / scale;
    top = y - (y - top) * next / scale;
    scale = next;
    place();
  };
  const inField = (event) => {
    const box = field.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const fromMiddle = (factor) => zoomTo(scale * factor, field.clientWidth / 2, field.clientHeight / 2);

  const enlarge = (svg, times = 1, at = null) => {
    picture = svg;
    home = document.createComment('');
    svg.replaceWith(home);
    field.append(svg);
    scale = 1;
    left = top = 0;
    fingers.clear();
    zoom.showModal();
    place();
    if (times > 1) zoomTo(times, at?.x ?? field.clientWidth / 2, at?.y ?? field.clientHeight / 2);
  };
  zoom.addEventListener('close', () => {
    if (!picture) return;
    picture.style.transform = '';
    home.replaceWith(picture);
    picture = home = lastTap = null;
  });
  find('smaller').addEventListener('click', () => fromMiddle(1 / 1.5));
  find('larger').addEventListener('click', () => fromMiddle(1.5));
  find('shut').addEventListener('click', () => zoom.close());

  // One finger drags, two pinch, two taps enlarge and go back. A mouse does the same with its button and its wheel.
  field.addEventListener('pointerdown', (event) => {
    if (event.button || !picture) return;
    fingers.set(event.pointerId, { ...inField(event), still: true });
  });
  field.addEventListener('pointermove', (event) => {
    const finger = fingers.get(event.pointerId);
    if (!finger) return;
    const now = inField(event);
    if (finger.still && fingers.size === 1 && Math.hypot(now.x - finger.x, now.y - finger.y) < STILL_PX) return;
    if (finger.still) field.setPointerCapture(event.pointerId);
    if (fingers.size === 1) {
      left += now.x - finger.x;
      top += now.y - finger.y;
      place();
    } else {
      const other = [...fingers.entries()].find(([id]) => id !== event.pointerId)[1];
      const before = Math.hypot(finger.x - other.x, finger.y - other.y), after = Math.hypot(now.x - other.x, now.y - other.y);
      left += (now.x - finger.x) / 2;
      top += (now.y - finger.y) / 2;
      other.still = false;
      if (before > 1) zoomTo(scale * after / before, (now.x + other.x) / 2, (now.y + other.y) / 2);
    }
    fingers.set(event.pointerId, { ...now, still: false });
  });
  const lift = (event) => {
    const finger = fingers.get(event.pointerId);
    fingers.delete(event.pointerId);
    if (!finger || !finger.still || event.type !== 'pointerup') { lastTap = null; return; }
    tap(inField(event), event.timeStamp);
  };
  const tap = (at, time) => {
    const twice = lastTap && time - lastTap.time < TAP_MS && Math.hypot(at.x - lastTap.x, at.y - lastTap.y) < TAP_PX;
    lastTap = twice ? null : { ...at, time };
    if (twice) zoomTo(scale > 1.2 ? 1 : 3, at.x, at.y);
  };
  field.addEventListener('pointerup', lift);
  field.addEventListener('pointercancel', lift);
  field.addEventListener('wheel', (event) => {
    event.preventDefault();
    const { x, y } = inField(event);
    const lines = event.deltaY * (event.deltaMode === 1 ? 16 : 1);
    zoomTo(scale * Math.exp(-between(-200, lines, 200) / (event.ctrlKey ? 100 : 400)), x, y);
  }, { passive: false });
  zoom.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const moves = { ArrowLeft: [60, 0], ArrowRight: [-60, 0], ArrowUp: [0, 60], ArrowDown: [0, -60] }[event.key];
    if (event.key === '+' || event.key === '=') fromMiddle(1.5);
    else if (event.key === '-') fromMiddle(1 / 1.5);
    else if (event.key === '0') zoomTo(1, 0, 0);
    else if (moves) { left += moves[0]; top += moves[1]; place(); } else return;
    event.preventDefault();
  });
  new ResizeObserver(() => { if (picture) place(); }).observe(field);

  // In the page: a tap opens the drawing large; the second of two taps then falls into the frame and enlarges it there. A pinch opens it at once.
  for (const frame of all('.drawing-frame')) {
    const svg = frame.querySelector('svg');
    if (!svg) continue;
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'enlarge';
    button.textContent = 'Enlarge';
    button.addEventListener('click', () => enlarge(svg));
    svg.addEventListener('click', (event) => {
      if (zoom.open) return;
      enlarge(svg);
      lastTap = event.detail ? { ...inField(event), time: event.timeStamp } : null;
    });
    let apart = 0;
    const spread = ({ touches: [a, b] }) => Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
    svg.addEventListener('touchstart', (event) => { apart = event.touches.length === 2 && !zoom.open ? spread(event) : 0; }, { passive: true });
    svg.addEventListener('touchmove', (event) => {
      if (!apart || event.touches.length !== 2 || zoom.open) return;
      if (event.cancelable) event.preventDefault();
      if (spread(event) < 1.15 * apart) return;
      apart = 0;
      const [a, b] = event.touches;
      enlarge(svg, 2, inField({ clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 }));
    }, { passive: false });
    svg.after(button);
  }
})();
