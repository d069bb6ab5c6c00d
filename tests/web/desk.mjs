// SPDX-License-Identifier: Apache-2.0
// A small rendered series on the desk, worked through as a person would.
// Usage: node desk.mjs PROGRAM CHROMIUM FOLDER   (FOLDER as web_series wrote it)
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { checkAccess } from './access.mjs';

const [program, browserPath, folder] = process.argv.slice(2);
const shots = join(folder, '..', 'shots');
mkdirSync(shots, { recursive: true });
const minutes = 60000;
const barriers = [];

function step(words) {
  console.log(`${new Date().toISOString().slice(11, 19)} ${words}`);
}

async function startDesk() {
  const desk = spawn(program, ['desk', join(folder, 's')], { stdio: ['ignore', 'pipe', 'inherit'] });
  const address = await new Promise((resolve, reject) => {
    desk.stdout.once('data', (bytes) => resolve(String(bytes).trim()));
    desk.once('exit', (code) => reject(new Error(`the desk ended with ${code}`)));
  });
  return { desk, address };
}

const results = (page) => page.evaluate(async () => (await fetch('/api/results')).json());
const mean = (data, group) => data.groups.find((each) => each.name === group).mean;
/// Waits until no run is under way and none waits; a run that was just asked for counts.
async function idle(page) {
  const end = Date.now() + 10 * minutes;
  while (Date.now() < end) {
    const work = await page.evaluate(async () => (await fetch('/api/work')).json());
    if (work.phase === 'idle' && !work.waiting) return;
    await new Promise((resume) => setTimeout(resume, 400));
  }
  throw new Error('the run did not end in ten minutes');
}

/// Presses a button that asks the desk for work, and waits until that is done.
async function pressAndWait(page, name, path) {
  const taken = page.waitForResponse((reply) => reply.url().endsWith(path));
  await page.getByRole('button', { name }).click();
  await taken;
  await idle(page);
}

async function shoot(page, name, path) {
  for (const [width, height] of [[1280, 900], [800, 900], [400, 800]]) {
    for (const scheme of ['light', 'dark']) {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ colorScheme: scheme });
      await page.goto(path, { waitUntil: 'networkidle' }).catch(() => {});
      await page.waitForTimeout(400);
      await page.screenshot({ path: join(shots, `${name}-${width}-${scheme}.png`), fullPage: true });
      const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      assert.ok(sideways <= 0, `${name} is ${sideways} px too wide at ${width}`);
      if (width !== 800) barriers.push(...await checkAccess(page, `${name}, ${width} px, ${scheme}`));
    }
  }
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.emulateMedia({ colorScheme: 'light' });
}

/// Every control has a name, and one can get to all of them by the keyboard.
async function checkNames(page) {
  const nameless = await page.evaluate(() => [...document.querySelectorAll('input, select, textarea, button, a')]
    .filter((node) => !(node.labels && node.labels.length) && !node.getAttribute('aria-label') && !node.textContent.trim())
    .map((node) => node.outerHTML));
  assert.deepEqual(nameless, []);
}

async function runSeries(page, base) {
  await page.goto(base);
  await page.getByRole('button', { name: /Start the run|Run again/ }).click();
  await page.locator('#work').waitFor({ state: 'visible' });
  await idle(page);
  await page.reload();
  await page.locator('.state').first().waitFor();
  assert.equal(await page.locator('.state.good').count(), 4, await page.locator('#bars').innerText());
  await checkNames(page);
}

async function correctAxle(page, base) {
  await page.goto(`${base}/bar?id=K1`);
  await page.waitForFunction(() => document.querySelector('#frame')?.naturalWidth > 0);
  const before = await page.locator('#facts').innerText();
  await page.getByLabel('What to put right').selectOption('axle');
  const x = page.locator('#mark-x');
  const start = Number(await x.inputValue());
  await page.locator('.mark').focus();
  for (let i = 0; i < 8; ++i) await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowRight');
  assert.ok(Math.abs(Number(await x.inputValue()) - start - 18) < 0.11, 'arrow keys move the mark');
  await page.getByRole('button', { name: 'Put this in place' }).click();
  assert.equal(await page.locator('#log-head ~ .scroll').count(), 0, 'without a reason nothing is sent');
  await page.locator('#why').fill('The ring was beside the bolt.');
  await checkNames(page);
  await page.getByRole('button', { name: 'Put this in place' }).click();
  await page.getByRole('button', { name: /Take back/ }).waitFor();
  await idle(page);
  await page.reload();
  await page.locator('#log-head ~ .scroll').waitFor();
  const row = await page.locator('#log-head ~ .scroll tbody tr').innerText();
  assert.match(row, /axle in the picture/);
  assert.match(row, /The ring was beside the bolt/);
  assert.notEqual(await page.locator('#facts').innerText(), before);
  // The axle was set wrong by 18 px on purpose: the motion knows better, and that is said.
  const away = /would have it (\d+) px away/.exec(await page.locator('.remarks').innerText());
  assert.ok(away && Math.abs(Number(away[1]) - 18) < 4, 'the motion speaks against a wrong axle');
}

async function dragMark(page, base) {
  await page.goto(`${base}/bar?id=K2`);
  await page.waitForFunction(() => document.querySelector('#frame')?.naturalWidth > 0);
  await page.getByLabel('What to put right').selectOption('rise');
  const box = await page.locator('.mark circle').boundingBox();
  const before = Number(await page.locator('#mark-y').inputValue());
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + 5, box.y + box.height / 2 - 40, { steps: 4 });
  await page.mouse.up();
  assert.ok(Number(await page.locator('#mark-y').inputValue()) < before - 5, 'the mouse drags the mark');
}

/// The page of a bar that was not measured: the clip's own length, and nothing that is guessed.
async function scrubUnmeasured(page, base) {
  await page.goto(`${base}/bar?id=K1`);
  await page.waitForFunction(() => document.querySelector('#frame')?.naturalWidth > 0);
  const words = page.locator('#frame-words');
  const count = Number(/ of (\d+)/.exec(await words.innerText())[1]);
  assert.equal(Number(await page.locator('#scrub').getAttribute('max')), count - 1);
  await page.locator('#scrub').focus();
  await page.keyboard.press('End');
  await page.waitForTimeout(800);
  assert.match(await words.innerText(), new RegExp(`^Picture ${count} of ${count}, about`));
  assert.equal(await page.locator('.stage .arm').count(), 0);
}

async function stopRun(page, base) {
  await page.goto(base);
  await page.getByRole('button', { name: 'Start the run' }).click();
  const stop = page.getByRole('button', { name: 'Stop the run' });
  await stop.waitFor({ state: 'visible' });
  await stop.focus();
  await page.keyboard.press('Enter');
  await idle(page);
  await page.getByText('The run was stopped').waitFor();
  assert.ok(await page.locator('.state.good').count() < 4);
}

async function makeFilm(page, base) {
  await page.goto(`${base}/bar?id=K2`);
  await pressAndWait(page, 'Make the film', '/api/film');
  const video = page.locator('#film-video');
  await video.waitFor();
  const type = await page.evaluate(async () => {
    const film = document.querySelector('#film-video');
    const reply = await fetch(film.src, { headers: { Range: 'bytes=0-99' } });
    return `${reply.status} ${reply.headers.get('Content-Type')}`;
  });
  assert.equal(type, '206 video/mp4');
  const seconds = await video.evaluate((film) => new Promise((resolve) => {
    const told = () => resolve(film.error ? film.error.message : film.duration);
    if (film.readyState > 0 || film.error) told();
    film.addEventListener('loadedmetadata', told);
    film.addEventListener('error', told);
  }));
  assert.ok(seconds > 2, `the film lasts ${seconds} s`);
}

async function leaveOut(page, base) {
  await page.goto(`${base}/ranking`);
  await page.locator('#out-bar').selectOption('V2');
  await page.getByRole('button', { name: 'Leave it out' }).click();
  assert.equal(await page.locator('#own-head ~ .scroll').count(), 0, 'a reason is needed');
  await page.locator('#why-out').fill('It was cracked before the blow.');
  await page.getByRole('button', { name: 'Leave it out' }).click();
  await page.getByRole('button', { name: 'Take back: left out: V2' }).waitFor();
  await idle(page);
  await page.waitForTimeout(1500);
  assert.match(await page.locator('#ranked').innerText(), /Before/i);
  const data = await results(page);
  assert.equal(data.bars.find((each) => each.id === 'V2').left_out, 'It was cracked before the blow.');
  assert.equal(data.groups.find((each) => each.name === 'Veltan / as-made').n_left_out, 1);
}

async function dropBar(page, base) {
  await page.goto(base);
  const bytes = [...readFileSync(join(folder, 'one more.mp4'))];
  const files = await page.evaluateHandle((content) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([new Uint8Array(content)], '../one more.mp4', { type: 'video/mp4' }));
    return transfer;
  }, bytes);
  await page.locator('.drop').first().dispatchEvent('drop', { dataTransfer: files });
  await page.getByLabel('Name of the bar').fill('K3');
  await page.getByLabel('Material').fill('Korvel');
  await page.getByLabel('Condition').fill('as-made');
  await page.getByLabel('Thickness h along the notch').fill('4');
  await page.getByLabel('Width b under the notch').fill('8');
  await page.getByRole('button', { name: 'Add this bar' }).click();
  await page.getByRole('link', { name: 'K3' }).waitFor();
  await idle(page);
  const data = await results(page);
  assert.equal(data.bars.find((each) => each.id === 'K3').problem, null);
  assert.match(readFileSync(join(folder, 's', 'specimens.csv'), 'utf8'), /K3,Korvel,as-made,,one-more\.mp4,,4,8,\n$/);
}

async function work(page, base) {
  step('look at a bar that was not measured');
  await scrubUnmeasured(page, base);
  step('stop a run');
  await stopRun(page, base);
  step('run the series');
  await runSeries(page, base);
  const first = await results(page);
  const before = mean(first, 'Korvel / as-made');
  step('correct an axle');
  await correctAxle(page, base);
  const second = await results(page);
  assert.notEqual(mean(second, 'Korvel / as-made'), before, 'the ranking follows the axle');
  assert.equal(mean(second, 'Veltan / as-made'), mean(first, 'Veltan / as-made'));
  const report = await page.evaluate(async () => (await fetch('/results/report.html')).text());
  assert.match(report, /Corrected by hand/);
  assert.match(report, /The ring was beside the bolt/);
  step('measure this bar again: the correction stays');
  await pressAndWait(page, 'Measure this clip again', '/api/run');
  assert.equal(mean(await results(page), 'Korvel / as-made'), mean(second, 'Korvel / as-made'));
  await dragMark(page, base);
  step('make a film');
  await makeFilm(page, base);
  await shoot(page, 'bar', `${base}/bar?id=K1`);
  step('take the correction back');
  await page.goto(`${base}/bar?id=K1`);
  await pressAndWait(page, /Take back/, '/api/undo');
  assert.equal(mean(await results(page), 'Korvel / as-made'), before, 'undone to the last digit');
  step('leave a bar out');
  await leaveOut(page, base);
  step('drop a clip');
  await dropBar(page, base);
  step('look at the pages');
  await shoot(page, 'series', base);
  await shoot(page, 'ranking', `${base}/ranking`);
  await page.goto(`${base}/plan`);
  await page.getByText('Bars in each group').waitFor();
  await shoot(page, 'plan', `${base}/plan`);
  await shoot(page, 'report', `${base}/results/report.html`);
}

const { desk, address } = await startDesk();
const browser = await chromium.launch({ executablePath: browserPath, headless: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-background-networking', '--disable-component-update', '--disable-sync'] });
try {
  const base = address.replace(/\/open\/.*/, '');
  const stranger = await browser.newPage();
  assert.equal((await stranger.goto(base)).status(), 403, 'without the address nobody comes in');
  await stranger.close();
  const page = await (await browser.newContext()).newPage();
  const faults = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => { if (message.type() === 'error') faults.push(message.text()); });
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(base) && !url.startsWith('data:')) faults.push(`asked elsewhere: ${url}`);
  });
  page.setDefaultTimeout(60000);
  await page.goto(address);
  await work(page, base);
  assert.deepEqual(barriers, []);
  assert.deepEqual(faults, []);
  step('done');
} finally {
  await browser.close();
  desk.kill();
}
