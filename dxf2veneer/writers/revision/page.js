// The switch between before and now: radio buttons, and a line that the slider moves across walls.
'use strict';
const body = document.body;
const line = document.getElementById('line');
const shown = () => document.querySelector('input[name="show"]:checked').value;

function draw() {
  const mode = shown();
  body.dataset.show = mode;
  for (const clip of document.querySelectorAll('clipPath')) {
    const width = Number(clip.closest('svg').dataset.width);
    const at = mode === 'line' ? width * Number(line.value) / 100 : null;
    const rect = clip.firstElementChild;
    const before = clip.dataset.side === 'before';
    rect.setAttribute('x', at !== null && !before ? at : 0);
    rect.setAttribute('width', at === null ? width : before ? at : width - at);
  }
}

body.classList.add('live');
for (const choice of document.querySelectorAll('input[name="show"]')) {
  choice.addEventListener('change', draw);
}
line.addEventListener('input', () => {
  document.querySelector('input[value="line"]').checked = true;
  draw();
});
draw();
