// The printed pages beside the tablet edition: sheet under sheet, so that each break is seen. They follow what is read, and lead to it.
const find = (id) => document.getElementById(id);
const paper = find('paper'), sheets = find('sheets'), told = find('paper-told');
const VIEWS = ['tablet', 'paper', 'both'];
let pages = { version: 0, count: 0, places: {} };
let read = '';

export const start = (post, goTo) => {
  const show = (view) => {
    document.body.dataset.view = view;
    for (const one of document.querySelectorAll('[data-show]')) one.setAttribute('aria-pressed', String(one.dataset.show === view));
    try { localStorage.setItem('view', view); } catch { /* private window */ }
    post('printed', view !== 'tablet');
    follow(read, true);
  };
  for (const one of document.querySelectorAll('[data-show]')) one.addEventListener('click', () => show(one.dataset.show));
  let kept = '';
  try { kept = localStorage.getItem('view') || ''; } catch { /* private window */ }
  if (VIEWS.includes(kept) && kept !== 'tablet') show(kept);
  sheets.addEventListener('click', (event) => {
    const number = Number(event.target.closest('figure')?.dataset.page);
    if (!number) return;
    // The place that begins on this page, else the one that runs on over it
    const before = Object.entries(pages.places).filter(([, page]) => page <= number - 1).sort((a, b) => a[1] - b[1]);
    const here = before.filter(([, page]) => page === number - 1);
    goTo(here.map(([name]) => name), before.reverse().map(([name]) => name));
  });
};

export const tell = (now) => {
  const fresh = now.version !== pages.version;
  pages = now;
  told.textContent = now.why ? `The pages cannot be printed. ${now.why}` : now.busy ? (now.count ? 'Printing anew…' : 'Printing the pages…') : now.count ? `${now.count} pages` : '';
  paper.setAttribute('aria-busy', String(now.busy));
  if (!fresh) return;
  sheets.replaceChildren(...Array.from({ length: now.count }, (_, index) => {
    const sheet = document.createElement('figure'), picture = document.createElement('img'), words = document.createElement('figcaption');
    sheet.dataset.page = index + 1;
    picture.loading = 'lazy';
    picture.alt = `Page ${index + 1} as it is printed`;
    picture.style.aspectRatio = `1 / ${now.shape}`;
    picture.src = `page/${index}?version=${now.version}`;
    words.textContent = `Page ${index + 1}`;
    sheet.append(picture, words);
    return sheet;
  }));
  paper.dataset.version = now.version;
  follow(read, true);
};

// The sheet on which stands what is read on the tablet
export const follow = (screen, anew = false) => {
  if (!anew && screen === read) return;
  read = screen;
  const page = pages.places[screen];
  for (const one of sheets.querySelectorAll('.read')) one.classList.remove('read');
  const sheet = page === undefined ? null : sheets.children[page];
  if (!sheet) return;
  sheet.classList.add('read');
  sheet.dataset.screen = screen;
  paper.scrollTo(0, sheet.offsetTop - 12);
};
