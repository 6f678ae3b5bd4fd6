// What stands below a turning view: a slider and buttons, and the line that says what the reader has tapped.
(() => {
  'use strict';
  const make = (name, words, more = {}) => {
    const one = document.createElement(name);
    if (words) one.textContent = words;
    Object.assign(one, more);
    return one;
  };
  Turning.make = make;
  const button = (words, act) => {
    const one = make('button', words, { type: 'button' });
    one.addEventListener('click', act);
    return one;
  };
  Turning.button = button;
  const slider = (words, act, most = 1) => {
    const label = make('label', '', { className: 'turn-slide' });
    const input = make('input', '', { type: 'range', min: '0', max: String(most), step: String(most / 200), value: '0' });
    label.append(make('span', words), input);
    input.addEventListener('input', () => act(Number(input.value)));
    return { label, input };
  };
  Turning.slider = slider;

  const way = (off) => {
    const axis = [0, 1, 2].reduce((best, i) => (Math.abs(off[i]) > Math.abs(off[best]) ? i : best), 0);
    return [['to the left', 'to the right'], ['forward', 'back'], ['down', 'up']][axis][off[axis] < 0 ? 1 : 0];
  };

  const SEVERAL = 6;  // so many that one face meets are told one by one
  const named = (words) => words[0].toUpperCase() + words.slice(1);
  const listed = (words) => (words.length > 1 ? `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}` : words[0]);
  // Which of its faces meets which face of what, in this step: a sentence for each of its own.
  const meets = (body, meetings) => {
    const { bodies } = Turning.data(), own = body.one.body, found = new Map();
    const face = (number, side) => (side === null || !bodies[number].faces ? null : bodies[number].faces[side].toLowerCase());
    const whose = (number, side) => { const words = face(number, side), name = Turning.bodyName(bodies[number]); return words ? `the ${words} of ${name}` : name; };
    const note = (mine, does, theirs) => {
      const begun = `${mine ? `its ${mine}` : 'it'} ${does}`, met = found.get(begun) || new Map();
      met.set(theirs, (met.get(theirs) || 0) + 1);
      found.set(begun, met);
    };
    for (const [part, side, other, onto, into] of meetings) {
      if (part === own) note(face(part, side), into ? 'goes into' : side === null ? 'sits on' : 'lies against', whose(other, onto));
      else if (other === own) note(face(other, onto), into ? 'takes' : side === null ? 'carries' : 'lies against', whose(part, side));
    }
    return [...found].map(([begun, met]) => {
      const told = [...met].map(([words, count]) => (count > 1 ? `${words} (${count} times)` : words)), more = told.length - SEVERAL;
      return `${named(begun)} ${listed(more > 1 ? [...told.slice(0, SEVERAL), `${more} more`] : told)}`;
    });
  };

  // Which of a strip's edges lies against which of its neighbours', in a panel that is glued up.
  const besides = (body, bodies) => bodies.filter((one) => Math.abs(one.one.strip - body.one.strip) === 1 && one.data === body.data).map((one) => {
    const away = one.at.clone().sub(body.at).toArray(), axis = [0, 1, 2].reduce((best, i) => (Math.abs(away[i]) > Math.abs(away[best]) ? i : best), 0);
    const [mine, theirs] = away[axis] > 0 ? [1, 0] : [0, 1], name = (side) => body.data.faces[2 * axis + side].toLowerCase();
    return `Its ${name(mine)} lies against the ${name(theirs)} of strip ${one.one.strip}`;
  });

  // What is said of a body: number, name and size, the face that was tapped, and what it does in this step.
  Turning.told = (body, face, { turning: { meetings, brings }, bodies, laid }) => {
    const { data, one } = body, said = [one.strip ? `Strip ${one.strip} of ${Turning.bodyName(data)}` : Turning.bodyName(data)];
    if (data.size && !one.strip) said.push(data.size);
    if (data.stock) said.push(data.stock);
    const words = [said.join(', ')];
    if (face) words.push(face);
    if (one.lying) words.push(`Cut from ${Turning.bodyName(Turning.data().bodies[one.lying.stock]).toLowerCase()}`);
    else if (one.new && !one.axes) words.push(brings ? 'New in this step' : 'Worked on in this step');
    if (one.turn !== undefined && one.off) words.push(`It moves ${way(one.off)} into place`);
    words.push(...meets(body, meetings), ...(one.strip && !laid ? besides(body, bodies) : []));
    return `${words.join('. ')}.`;
  };

  Turning.Panel = class {
    constructor(view) {
      this.view = view;
      this.box = make('div', '', { className: 'turn-panel' });
      this.said = make('p', '', { className: 'turn-said' });
      this.said.setAttribute('aria-live', 'polite');
      this.tools = make('div', '', { className: 'turn-tools' });
      this.box.append(this.said, this.tools);
      this.row = make('div', '', { className: 'turn-row' });
      this.flat = button('Flat drawing', () => view.close());
      this.row.append(this.flat, button('As drawn', () => view.again()));
      this.tools.append(this.row);
      this.say('');
    }

    // A slider that moves things, and a button that moves it.
    moving(words, motion) {
      this.motion = motion;
      const { label, input } = slider(words, (value) => { this.stop(); motion.to(value); this.view.moved(); });
      this.input = input;
      this.play = button('Play', () => this.run());
      this.tools.prepend(label);
      this.row.prepend(this.play);
      return input;
    }

    run() {
      if (this.halt) { this.stop(); return; }
      const from = this.motion.at > 0.99 ? 0 : this.motion.at;
      this.play.textContent = Turning.still() ? 'Play' : 'Stop';
      const show = (share) => { this.motion.to(share); this.input.value = String(share); this.view.moved(); };
      this.halt = () => {};
      const halt = Turning.play(from, 1, this.motion.seconds * (1 - from), show, () => this.stop());
      if (this.halt) this.halt = halt;
    }

    stop() {
      if (this.halt) this.halt();
      this.halt = null;
      if (this.play) this.play.textContent = 'Play';
    }

    say(words, number, more = []) {
      this.said.textContent = words || 'Drag to turn, pinch or scroll to enlarge, tap a part. Keys: arrows turn, with Shift they move it, + and − enlarge, N goes from part to part, F from face to face, P plays, Esc leaves.';
      const target = number && document.getElementById(`part-${number}`);
      if (target) {
        const link = make('a', `Drawing of part ${number}`, { href: `#part-${number}` });
        this.said.append(' ', link);
      }
      for (const one of more) this.said.append(' ', one);
    }
  };
})();
