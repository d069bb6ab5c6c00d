// SPDX-License-Identifier: Apache-2.0
// What axe-core finds on a page: names, roles, headings, contrast, landmarks (its rules after
// WCAG 2, and its own best practice).
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const line = (rule, node) => `${rule.id} (${rule.impact}) at ${node.target}: ${node.failureSummary}`;

/// Contrast that axe cannot work out: text drawn over or beside a picture, and single letters.
const leftOpen = (node) => node.any.every((check) =>
  ['imgNode', 'shortTextContent', 'bgOverlap', 'elmPartiallyObscured'].includes(check.data?.messageKey));

/// Every violation, and every doubt that has no reason above, as a line.
export async function checkAccess(page, name) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => {
    // The gradients that hint at more to the side are of the paper's colour beneath the text,
    // but axe gives up at any gradient.
    for (const node of document.querySelectorAll('.scroll, .pan, h2')) node.style.backgroundImage = 'none';
    return globalThis.axe.run({ preload: false });
  });
  const lines = found.violations.flatMap((rule) => rule.nodes.map((node) => line(rule, node)));
  for (const rule of found.incomplete) {
    const open = rule.id === 'color-contrast' ? rule.nodes.filter((node) => !leftOpen(node)) : rule.nodes;
    lines.push(...open.map((node) => `not decided: ${line(rule, node)}`));
  }
  const contrast = found.passes.find((rule) => rule.id === 'color-contrast');
  assert.ok(contrast && contrast.nodes.length > 10, `${name}: hardly a text's contrast was looked at`);
  return lines.map((each) => `${name}: ${each}`);
}
