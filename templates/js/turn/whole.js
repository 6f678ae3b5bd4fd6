// The whole piece: taken apart, opened, cut open, one part by itself.
(() => {
  'use strict';
  const { make, button, slider } = Turning;

  Turning.whole = (view, panel, motion) => {
    const { stage } = view;
    if (motion.openings.length) {
      const row = make('div', '', { className: 'turn-row' });
      for (const one of motion.openings) {
        const act = button(`${one.about ? 'Open' : one.loose ? 'Take out' : 'Pull out'}: ${one.name}`, () => {
          const from = one.open, to = from > 0.5 ? 0 : 1;
          act.setAttribute('aria-pressed', String(to === 1));
          Turning.play(from, to, 1, (share) => { one.open = share; motion.place(); view.moved(); }, () => view.moved());
        });
        act.setAttribute('aria-pressed', 'false');
        row.append(act);
      }
      panel.tools.append(row);
    }

    const box = new THREE.Box3();
    for (const body of stage.bodies) box.union(body.home);
    const ways = [['Not cut', null], ['Cut from the side', 0], ['Cut from the front', 1], ['Cut from the top', 2]];
    const choice = make('select'), row = make('div', '', { className: 'turn-row' });
    choice.setAttribute('aria-label', 'Cut the piece open');
    ways.forEach(([words], place) => choice.append(make('option', words, { value: String(place) })));
    const deep = slider('How deep', () => cut());
    deep.input.value = '0.5';
    deep.label.hidden = true;
    const cut = () => {
      const axis = ways[Number(choice.value)][1], share = Number(deep.input.value);
      deep.label.hidden = axis === null;
      const name = 'xyz'[axis ?? 0], low = box.min[name] - 1, high = box.max[name] + 1;
      stage.cut(axis, axis === 1 ? low + share * (high - low) : high - share * (high - low));
      view.moved();
    };
    choice.addEventListener('change', cut);
    row.append(choice, deep.label);
    panel.tools.append(row);

    const alone = button('This part alone', () => {
      const kept = stage.picked;
      if (!kept) { panel.say('Tap a part first.'); return; }
      for (const body of stage.bodies) stage.hide(body, body !== kept);
      stage.fit();
      view.again();
      view.tell(kept);
    });
    const away = button('Hide this part', () => {
      if (!stage.picked) { panel.say('Tap a part first.'); return; }
      stage.hide(stage.picked, true);
      view.pick(null);
    });
    const all = button('Show all', () => {
      for (const body of stage.bodies) stage.hide(body, false);
      stage.fit();
      view.moved();
    });
    const parts = make('div', '', { className: 'turn-row' });
    parts.append(alone, away, all);
    panel.tools.append(parts);
  };
})();
