// What the pages need of the browser besides the framework: theme, uploads, keys that must not type, and the way back after the server was gone.

const kept = key => { try { return localStorage.getItem(key); } catch { return null; } };
const keep = (key, value) => { try { value === null ? localStorage.removeItem(key) : localStorage.setItem(key, value); } catch { /* A browser that keeps nothing still shows the page. */ } };
const keptNames = start => { try { return Object.keys(localStorage).filter(name => name.startsWith(start)); } catch { return []; } };

const applyTheme = theme => {
  if (theme === 'light' || theme === 'dark') document.documentElement.dataset.theme = theme;
  else delete document.documentElement.dataset.theme;
};
applyTheme(kept('theme'));

window.pairbench = {
  theme: () => kept('theme') ?? 'system',

  setTheme: theme => {
    keep('theme', theme === 'system' ? null : theme);
    applyTheme(theme);
  },

  customary: () => kept('units') === 'customary',

  setCustomary: customary => keep('units', customary ? 'customary' : null),

  // A form that is sent whole, such as a decision, is kept here until it is sent.
  draft: name => kept(`draft ${name}`) ?? '',

  // Those whose names begin so, by the rest of their names.
  drafts: start => Object.fromEntries(keptNames(`draft ${start}`).map(name => [name.slice(`draft ${start}`.length), kept(name) ?? ''])),

  keepDraft: (name, text) => keep(`draft ${name}`, text || null),

  reveal: id => document.getElementById(id)?.scrollIntoView({ block: 'nearest' }),

  // Pictures of one view beside each other: whatever is looked at in one is looked at in the other.
  lookTogether: () => {
    for (const pair of document.querySelectorAll('[data-together]:not([data-ready])')) {
      pair.dataset.ready = 'true';
      const images = [...pair.querySelectorAll('img')];
      const touches = new Map();
      let [scale, x, y] = [1, 0, 0];
      const show = () => {
        const { width, height } = images[0].parentElement.getBoundingClientRect();
        [x, y] = [Math.min(0, Math.max(width * (1 - scale), x)), Math.min(0, Math.max(height * (1 - scale), y))];
        for (const image of images) image.style.transform = `translate(${x}px, ${y}px) scale(${scale})`;
      };
      const zoom = (factor, at) => {
        const next = Math.min(24, Math.max(1, scale * factor));
        [x, y, scale] = [at.x - (at.x - x) * next / scale, at.y - (at.y - y) * next / scale, next];
        show();
      };
      const middle = () => ({ x: images[0].parentElement.clientWidth / 2, y: images[0].parentElement.clientHeight / 2 });
      const place = e => {
        const half = (e.target.closest('.half') ?? images[0].parentElement).getBoundingClientRect();
        return { x: e.clientX - half.left, y: e.clientY - half.top };
      };
      const spread = () => { const [a, b] = [...touches.values()]; return Math.hypot(a.x - b.x, a.y - b.y); };
      pair.addEventListener('wheel', e => { e.preventDefault(); zoom(Math.exp(-e.deltaY / 400), place(e)); }, { passive: false });
      pair.addEventListener('pointerdown', e => { pair.setPointerCapture(e.pointerId); touches.set(e.pointerId, { x: e.clientX, y: e.clientY }); });
      pair.addEventListener('pointermove', e => {
        const last = touches.get(e.pointerId);
        if (!last) return;
        const before = touches.size === 2 ? spread() : 0;
        touches.set(e.pointerId, { x: e.clientX, y: e.clientY });
        if (touches.size === 2 && before > 0) zoom(spread() / before, middle());
        else { [x, y] = [x + e.clientX - last.x, y + e.clientY - last.y]; show(); }
      });
      for (const end of ['pointerup', 'pointercancel']) pair.addEventListener(end, e => touches.delete(e.pointerId));
      pair.addEventListener('keydown', e => {
        const step = { ArrowLeft: [40, 0], ArrowRight: [-40, 0], ArrowUp: [0, 40], ArrowDown: [0, -40] }[e.key];
        if (step) [x, y] = [x + step[0], y + step[1]];
        else if (e.key === '+' || e.key === '=') zoom(1.25, middle());
        else if (e.key === '-') zoom(0.8, middle());
        else if (e.key === '0') [scale, x, y] = [1, 0, 0];
        else return;
        e.preventDefault();
        show();
      });
    }
  },

  focus: selector => document.querySelector(selector)?.focus(),

  // Keys that a control answers itself must not reach the page as well.
  holdKeys: (element, keys) => {
    if (!element || element.dataset.held) return;
    element.dataset.held = 'true';
    element.addEventListener('keydown', e => {
      const inField = e.target !== element && /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName);
      if (!inField && !e.ctrlKey && !e.altKey && !e.metaKey && keys.includes(e.key)) e.preventDefault();
    });
  },

  // Readings go fast: Enter takes the number and empties the field at once, so that a gauge that types like a keyboard is never ahead of the page.
  // Backspace pressed on the empty field takes back the last, Tab takes what is typed and goes to the next such field, any key that belongs to no number does nothing.
  // What comes in one piece stays as it came: the page says what becomes of it.
  readings: (input, page) => {
    if (!input || input.dataset.ready) return;
    input.dataset.ready = 'true';
    const one = /^-?(\d+[.,]?\d*|[.,]\d+)$/;
    let told = false;
    const say = left => { told = left !== ''; page.invokeMethodAsync('OnLeft', left).catch(() => {}); };
    const take = async () => {
      const typed = input.value.trim();
      if (!typed) return;
      told = false;
      if (one.test(typed)) {
        input.value = '';
        page.invokeMethodAsync('OnTake', typed).catch(() => { input.value = typed; });
      } else if (await page.invokeMethodAsync('OnTake', typed).catch(() => false)) {
        if (input.value.trim() === typed) input.value = '';
        if (told) say('');
      } else {
        told = true;
        if (document.activeElement === input) input.select();
      }
    };
    for (const button of input.closest('.reading').querySelectorAll('[data-does]')) {
      // The focus stays in the field, and with it the keys of the screen.
      button.addEventListener('pointerdown', e => e.preventDefault());
      button.addEventListener('click', () => {
        if (button.dataset.does === 'Enter') take();
        else if (input.value === '') page.invokeMethodAsync('OnTakeBack').catch(() => {});
        else {
          // What is meant is the number in sight, and not the one before it.
          input.value = '';
          if (told) say('');
        }
      });
    }
    input.addEventListener('beforeinput', e => {
      if (e.data?.length === 1 && !/[0-9.,-]/.test(e.data)) e.preventDefault();
    });
    input.addEventListener('paste', e => {
      const pieces = e.clipboardData?.getData('text').trim().split(/[\s;]+/) ?? [];
      if (pieces.length < 2) return;
      e.preventDefault();
      input.setRangeText(pieces.join(' '), input.selectionStart, input.selectionEnd, 'end');
      input.dispatchEvent(new Event('input', { bubbles: true }));
    });
    input.addEventListener('input', () => {
      const typed = input.value.trim();
      if (/[^0-9.,-]/.test(typed)) say(typed);
      else if (told) say('');
    });
    input.addEventListener('blur', () => { if (input.value.trim()) say(input.value.trim()); });
    input.addEventListener('keydown', e => {
      if (e.key === 'Enter') {
        e.preventDefault();
        take();
      } else if (e.key === 'Backspace' && input.value === '') {
        e.preventDefault();
        if (!e.repeat) page.invokeMethodAsync('OnTakeBack').catch(() => {});
      } else if (e.key === 'Tab') {
        take();
        const all = [...document.querySelectorAll('[data-reading]')];
        const next = e.shiftKey ? null : all[all.indexOf(input) + 1];
        if (next) {
          e.preventDefault();
          next.focus();
          next.scrollIntoView({ block: 'nearest' });
        }
      }
    });
  },

  intake: (zone, page, review) => {
    const abort = new AbortController();
    const on = (target, type, handler) => target.addEventListener(type, handler, { signal: abort.signal });
    let batches = 0;
    const take = async (files, choose = true) => {
      if (files.length === 0) return;
      try {
        if (batches++ > 0 || await page.invokeMethodAsync('OnBegin')) {
          for (const file of files) await send(file, page, review, choose);
        }
      } catch { /* Without its page nothing can be taken; the page says that it is cut off. */ } finally {
        batches--;
      }
    };
    zones.set(zone, take);
    zone.dataset.ready = 'true';
    on(zone, 'dragover', e => {
      if ([...e.dataTransfer.types].includes('Files')) {
        e.preventDefault();
        zone.classList.add('over');
      }
    });
    on(zone, 'dragleave', () => zone.classList.remove('over'));
    on(zone, 'drop', e => {
      e.preventDefault();
      zone.classList.remove('over');
      take(pictures(e.dataTransfer.files));
    });
    const input = zone.querySelector('input[type=file]');
    on(input, 'change', async () => {
      const files = pictures(input.files);
      input.value = '';
      await take(files);
    });
    return {
      dispose: () => {
        zones.delete(zone);
        abort.abort();
      },
    };
  },

  sendZip: (input, page) => {
    if (!input || input.dataset.ready) return;
    input.dataset.ready = 'true';
    input.addEventListener('change', async () => {
      const file = input.files[0];
      if (!file) return;
      const body = new FormData();
      body.append('folder', file);
      let words = `${file.name}: could not be sent; see that the bench still runs and try again`;
      if (file.size > Number(input.dataset.most)) {
        words = `${file.name}: has more than ${input.dataset.most / 2 ** 20} MiB; give a .zip of at most that`;
      } else {
        try {
          const answer = await fetch('/import', { method: 'POST', body, headers: token() });
          const said = await answer.json().catch(() => null);
          if (answer.ok && said) {
            location.assign(`/reviews/${said.review}`);
            return;
          }
          words = said?.faults?.join('\n') ?? `${file.name}: was not taken (the bench answered ${answer.status}); try again`;
        } catch { /* The words above tell it. */ }
      }
      input.value = '';
      page.invokeMethodAsync('OnImportRefused', words);
    });
  },
};

// What was typed and has not reached the server is not saved, whatever the last answer said.
const typed = e => {
  // A form is sent whole: what is typed there waits for its button.
  const saved = !e.target.form && e.target.closest?.('.field') && document.querySelector('.saved[data-arrived]');
  if (saved) {
    saved.sent = (saved.sent ?? 0) + 1;
    saved.dataset.typed = 'true';
  }
};
document.addEventListener('input', e => { if (e.target.tagName !== 'SELECT') typed(e); }, true);
document.addEventListener('change', e => { if (e.target.tagName === 'SELECT') typed(e); }, true);
new MutationObserver(changes => {
  for (const { target } of changes) if (Number(target.dataset.arrived) >= (target.sent ?? 0)) delete target.dataset.typed;
}).observe(document, { attributes: true, attributeFilter: ['data-arrived'], subtree: true });

const token = () => ({ RequestVerificationToken: document.querySelector('meta[name=request-token]').content });

const pictures = list => [...list].filter(f => f instanceof File && f.size > 0);

// Where photographs are taken, each with what takes them.
const zones = new Map();

// A pasted picture goes to one place: the one that has the focus; else the photographs of the review, without being chosen for anything, unless a single place is to be seen and holds none yet.
document.addEventListener('paste', e => {
  const files = pictures(e.clipboardData?.files ?? []);
  // A table of a spreadsheet comes as text and as a picture of itself: in a field it is text.
  const isText = /^(INPUT|TEXTAREA)$/.test(e.target.tagName ?? '') && e.clipboardData.types.includes('text/plain');
  if (files.length === 0 || isText) return;
  const seen = [...zones.keys()].filter(zone => zone.checkVisibility?.() ?? true);
  const place = zone => zone.closest('.picker') ?? zone;
  const held = seen.find(zone => place(zone).contains(document.activeElement));
  const zone = held ?? seen.find(one => place(one) === one) ?? seen[0];
  if (!zone) return;
  e.preventDefault();
  zones.get(zone)(files, zone === held || (seen.length === 1 && !place(zone).querySelector('[aria-pressed=true]')));
});

// Not crypto.randomUUID: there is none on a bench that is reached by plain HTTP from another machine.
const ofThisPage = [...crypto.getRandomValues(new Uint32Array(2))].map(n => n.toString(36)).join('');
let sent = 0;

// XMLHttpRequest, since fetch does not tell how much of a body has gone out. Whatever becomes of it, the page is told.
function send(file, page, review, choose) {
  return new Promise(done => {
    const id = `${ofThisPage}-${++sent}`;
    const request = new XMLHttpRequest();
    const tell = (method, ...values) => page.invokeMethodAsync(method, id, ...values).catch(() => {});
    const refuse = async words => {
      await tell('OnUploadRefused', words);
      done();
    };
    let shown = -1;
    request.upload.onprogress = e => {
      const percent = Math.floor((e.loaded / Math.max(1, e.total)) * 20) * 5;
      if (percent !== shown) {
        shown = percent;
        tell('OnUploadProgress', file.name, percent);
      }
    };
    request.onload = async () => {
      let said = null;
      try { said = JSON.parse(request.responseText); } catch { /* Told by its number. */ }
      if (request.status !== 200 || !said?.file) {
        await refuse(said?.faults?.join('\n') ?? `${file.name}: was not taken (the bench answered ${request.status}); try again`);
        return;
      }
      try {
        await page.invokeMethodAsync('OnUploaded', id, said.file, choose);
        done();
      } catch {
        await refuse(`${file.name}: is with the review, but could not be put among its photographs; add it once more`);
      }
    };
    request.onerror = () => refuse(`${file.name}: could not be sent; see that the bench still runs and try again`);
    try {
      request.open('PUT', `/reviews/${encodeURIComponent(review)}/photos?name=${encodeURIComponent(file.name || 'pasted.png')}`);
      request.setRequestHeader('RequestVerificationToken', token().RequestVerificationToken);
      request.setRequestHeader('Content-Type', 'application/octet-stream');
      request.send(file);
    } catch (e) {
      refuse(`${file.name}: could not be sent (${e.message}); load the page again, then add it again`);
    }
  });
}

// A link to a part of the page takes the focus there too, so that Tab goes on from it.
document.addEventListener('click', e => {
  const to = e.target.closest?.('a[href*="#"]');
  if (to?.pathname === location.pathname) setTimeout(() => document.getElementById(to.hash.slice(1))?.focus({ preventScroll: true }));
});

// In a table of fields Enter goes on to the next one; after the last it presses the button that adds a row, and waits for the row.
document.addEventListener('keydown', e => {
  const table = e.key === 'Enter' && e.target.matches?.('input, select') ? e.target.closest('[data-enter-goes-on]') : null;
  if (!table) return;
  e.preventDefault();
  const cells = () => [...table.querySelectorAll('input, select')];
  const at = cells().indexOf(e.target);
  const go = () => { const next = cells()[at + 1]; next?.focus(); next?.select?.(); return next; };
  if (go()) return;
  const row = new MutationObserver(() => { if (go()) row.disconnect(); });
  row.observe(table, { childList: true, subtree: true });
  table.querySelector('[data-goes-on]')?.click();
});

// On the sheet Enter goes on from a field to the next, or to where readings are taken, as Tab does to whatever is next.
document.addEventListener('keydown', e => {
  if (e.key !== 'Enter' || e.defaultPrevented || e.isComposing || !e.target.matches?.('.sheet .field input') || e.target.form) return;
  const fields = [...document.querySelectorAll('.sheet :is(.field :is(input, select, textarea), [data-reading])')].filter(f => f === e.target || (!f.disabled && (f.checkVisibility?.() ?? true)));
  const next = fields[fields.indexOf(e.target) + 1];
  if (!next) return;
  e.preventDefault();
  next.focus();
  next.select?.();
});

// Of what a button begins, the first thing to fill in or to choose takes the focus. Where a button goes with what it took off, the next that is still there takes it: from nowhere Tab would begin at the top of the page.
document.addEventListener('click', e => {
  const button = e.target.closest?.('main button');
  if (!button || document.activeElement !== button) return;
  const part = button.closest('.examination, .work') ?? button.closest('main');
  const reached = () => [...part.querySelectorAll(':is(input, select, textarea, button, summary):not(:disabled)')].filter(f => f.checkVisibility?.() ?? true);
  const [before, begins, said] = [reached(), 'begins' in button.dataset, button.textContent];
  const known = new Set(before);
  const came = new MutationObserver(() => {
    const gone = !button.isConnected || button.disabled || (begins && button.textContent !== said);
    const free = document.activeElement === document.body || document.activeElement === button;
    if (!free || !(begins || gone)) return;
    const anew = reached().filter(f => !known.has(f));
    const first = anew.find(f => begins ? !f.matches('.plain') : f.matches('input, select, textarea'));
    const next = () => { const at = before.indexOf(button); return [...before.slice(at + 1), ...before.slice(0, at).reverse()].find(f => f.isConnected && !f.disabled); };
    const to = first ?? (begins ? null : next() ?? anew[0]);
    if (!to) return;
    end();
    to.focus();
  });
  // Whoever goes on elsewhere has the focus where they want it, and what comes late leaves it there.
  const over = new AbortController();
  const end = () => { came.disconnect(); over.abort(); };
  const elsewhere = e => { if (e.type === 'click' || document.activeElement !== button) end(); };
  for (const type of ['click', 'keydown', 'focusin']) document.addEventListener(type, elsewhere, { capture: true, signal: over.signal });
  came.observe(part, { childList: true, subtree: true, attributeFilter: ['disabled'] });
  setTimeout(end, 60000);
});

// When the server was gone long enough to forget this page, load it anew: everything acknowledged is in the store.
document.addEventListener('DOMContentLoaded', () => {
  const gone = document.getElementById('components-reconnect-modal');
  gone?.addEventListener('components-reconnect-state-changed', e => {
    if (e.detail.state === 'rejected') location.reload();
    if (e.detail.state === 'failed') waitForBench();
  });
});

async function waitForBench() {
  for (;;) {
    await new Promise(next => setTimeout(next, 2000));
    try {
      if ((await fetch('/alive', { cache: 'no-store' })).ok) {
        location.reload();
        return;
      }
    } catch { /* Not back yet. */ }
  }
}
