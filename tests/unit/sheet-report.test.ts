/** The change sheet in text, CSV and JSON: what it says, that nothing from a plan escapes into it, its width and schema. */
import { Ajv } from 'ajv';
import { parse } from 'csv-parse/sync';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import type { Comparison } from '../../src/compare/steps.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
import { readInputs } from '../../src/edge/files.js';
import {
  reportDiffJson,
  reportDiffText,
  reportSheetCsv,
  reportSheetJson,
  reportSheetText,
} from '../../src/reporters/change.js';
import { escapeText } from '../../src/page/escape.js';
import { sheetPage } from '../../src/report/change/sheet-page.js';
import { cellsOf, headingsOf, textsOf } from '../tools/page-parts.js';
import { measure } from '../../src/draw/width.js';
import { hostileModel } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';

const PLAIN = { version: '0.1.0', width: 100, colour: false };
const SCHEMA = JSON.parse(readFileSync(new URL('../../schemas/sheet.schema.json', import.meta.url), 'utf8')) as object;
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);

const revision = (name: string): Plan => {
  const folder = fileURLToPath(new URL(`../../examples/kestrel-bay/${name}`, import.meta.url));
  const { inputs, problems } = readInputs([folder]);
  return loadPlan(inputs, problems).plan;
};
const heron = comparePlans(revision('heron'), revision('heron-broken'));
const nothing = comparePlans(revision('heron'), revision('heron'));

const SMALL = (group: string, id: number): string => `
networks: [{name: red, leg: 1}]
vlans: [{name: red-video, id: ${id}, network: red}]
switches: [{name: red-a, ports: [{name: 1-9, access: red-video}]}]
devices:
  - name: red-cam
    interfaces: [{name: red, vlan: red-video, port: red-a/1}]
    senders: [{name: red-out, legs: [{interface: red, group: ${group}}]}]
  - name: red-desk
    interfaces: [{name: red, vlan: red-video, port: red-a/2}]
    receivers: [{name: red-in, takes: red-cam/red-out}]
`;

function hostile(rename: (name: string) => string): Comparison {
  const of = (text: string): Plan => hostileModel(text, /^red-/, rename).plan;
  return comparePlans(of(SMALL('239.192.0.1', 110)), of(SMALL('239.192.0.2', 210)));
}

describe('the two revisions of Heron', () => {
  const text = reportDiffText({ comparison: heron, problems: [] }, PLAIN);
  const page = sheetPage(heron);

  it('begin with what changed, in words', () => {
    expect(text.replace(/\n(?=\S)/g, ' ')).toMatch(/^9 streams re-addressed, 1 stream new, \d+ receivers to re-patch/);
  });

  it('say what a crew does, with room for a tick', () => {
    const steps = cellsOf(page).map(([, ...step]) => step);
    for (const step of [
      ['cam-24', 'video, leg 1', 'group 239.192.10.24 → 239.64.10.12'],
      ['switch blue-truck', 'VLAN blue-video', 'remove querier 10.21.10.2'],
      ['panel-93', 'red', 'cable red-truck/41 → red-truck/34'],
      ['clock-202', 'clock', 'priority2 2 → 1'],
    ])
      expect(steps).toContainEqual(step);
    const patch = steps.find(([box, place]) => box === 'vision-core' && place === 'cam-24, leg 1');
    expect(patch?.[2]).toMatch(/^patch group 239\.192\.10\.24 → 239\.64\.10\.12/);
    expect(cellsOf(page).map(([number]) => Number(number))).toEqual(steps.map((_, index) => index + 1));
    expect(text).toMatch(/^ *1 \[ \] \S/m);
    expect(textsOf(page, 'Left alone')).toEqual(['network management: nothing changes there']);
  });

  it('leave the other leg on air, and control until all else is done', () => {
    const stages = headingsOf(page).map((heading) => heading.replace(/^STAGE \d+: (.*) \(\d+ steps?\)$/, '$1'));
    expect(stages).toEqual([
      'CHANGE SHEET',
      'Network red, leg 1',
      'Network red-wan, leg 1',
      'Network blue, leg 2',
      'Network blue-wan, leg 2',
      'On no one network',
      'Network control, last because boxes are reached over it',
      'On paper only',
    ]);
  });

  it('look like no page of a text comparison', () => {
    expect(text).not.toMatch(/^[+\-<>] |^@@|^(---|\+\+\+) /m);
  });

  it('keep to the width', () => {
    for (const width of [40, 60, 80, 140])
      for (const line of reportSheetText(heron, { ...PLAIN, width }).split('\n'))
        // 60 columns are less than some single names of the plan need.
        expect(measure(line)).toBeLessThanOrEqual(Math.max(width, 45));
  });
});

describe('a small sheet', () => {
  it('reads like this', () => {
    const comparison = hostile((name) => name);
    expect(reportDiffText({ comparison, problems: [] }, PLAIN)).toMatchInlineSnapshot(`
      "1 stream re-addressed, 1 receiver to re-patch, 2 devices and 1 switch to touch

      CHANGE SHEET
      ------------
      To do       3 steps
      Order       from the top; one leg is done before the next, so that the other stays on air, and
                  nothing is taken before it is free

      STAGE 1: Network red, leg 1 (3 steps)
      -------------------------------------
      1 [ ] switch red-a  VLAN red-video  VLAN id 110 → 210
      2 [ ] red-cam       red-out, leg 1  group 239.192.0.1 → 239.192.0.2
      3 [ ] red-desk      red-in, leg 1   patch group 239.192.0.1 → 239.192.0.2 (red-cam/red-out moved)

      Caution   A clean result is a check on paper, not proof for air. Safety intercom and public address
                follow local codes and competent testing.
      "
    `);
  });
});

describe('nothing changed', () => {
  it('is one line', () => {
    expect(reportDiffText({ comparison: nothing, problems: [] }, PLAIN)).toBe('nothing changed\n');
    expect(reportSheetText(nothing, PLAIN)).toBe('nothing changed\n');
    expect(reportSheetCsv(nothing).trim().split('\r\n')).toHaveLength(1);
  });
});

describe('CSV and JSON', () => {
  it('hold every step once, in the same order', () => {
    const rows: Record<string, string>[] = parse(reportSheetCsv(heron), { columns: true });
    const sheet = JSON.parse(reportSheetJson(heron, PLAIN)) as {
      readonly stages: readonly { readonly steps: readonly Record<string, unknown>[] }[];
    };
    const steps = sheet.stages.flatMap((stage) => stage.steps);
    expect(rows).toHaveLength(heron.steps.length);
    expect(rows.map(({ step, what, old, new: now }) => [Number(step), what, old, now])).toEqual(
      steps.map(({ number, what, old, new: now }) => [number, what, old ?? '', now ?? '']),
    );
  });

  it('JSON keeps to its schema, with edits and without a plan too', () => {
    const at = { file: 'plan.yaml', line: 1, column: 1, endLine: 1, endColumn: 2 };
    for (const text of [
      reportSheetJson(heron, PLAIN),
      reportDiffJson({ comparison: heron, problems: [] }, PLAIN),
      reportDiffJson({ comparison: nothing, problems: [] }, PLAIN),
      reportDiffJson({ comparison: undefined, problems: [{ at, what: 'unread', instead: 'a plan' }] }, PLAIN),
      reportSheetJson(heron, PLAIN, [
        { file: 'heron/core.yaml', path: ['vlans', { name: 'red-video' }, 'id'], old: 110, new: 210 },
        { file: 'heron/core.yaml', path: ['devices', 3, 'gateway'], old: undefined, new: '10.0.0.1' },
      ]),
    ])
      expect(validate(JSON.parse(text)), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ rigproofSheet: 2 })).toBe(false);
  });
});

describe('hostile names', () => {
  it.each(HOSTILE_TEXTS.map((text) => [escapeText(text), text]))('%s stays a name', (_, text) => {
    const comparison = hostile((name) => `${name}${text.replaceAll('/', '')}`);
    expect(comparison.steps.map(({ what }) => what).sort()).toEqual(['VLAN id', 'group', 'group']);
    for (const output of [
      reportDiffText({ comparison, problems: [] }, PLAIN),
      reportSheetText(comparison, { ...PLAIN, width: 40 }),
      reportSheetJson(comparison, PLAIN),
      reportDiffJson({ comparison, problems: [] }, PLAIN),
      reportSheetCsv(comparison).replaceAll('\r\n', ''),
    ])
      expect(output.replaceAll('\n', '')).toBe(escapeText(output.replaceAll('\n', '')));
  });

  it.each(['=cmd|calc', '+1', '@SUM(1)', '-2', ' =1', '\uff1d1'])('a formula %s is no formula in CSV', (formula) => {
    const rows: string[][] = parse(reportSheetCsv(hostile((name) => `${formula} ${name}`)));
    expect(rows.flat().some((cell) => cell.includes(formula))).toBe(true);
    for (const cell of rows.flat()) expect(cell).not.toMatch(/^\s*[=+\-@\uff1d]/);
  });
});
