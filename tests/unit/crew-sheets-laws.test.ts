/** Crew sheets as a whole: which there are, their order, hostile text, and what they are read back as. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel } from '../../src/model/model.js';
import { asTextInput } from '../tools/texts.js';
import { readInputs } from '../../src/edge/files.js';
import { crewSheets, SHEETS, type SheetName } from '../../src/reporters/crew.js';
import { escapeText } from '../../src/page/escape.js';
import { generatePlan } from '../bench/generate.js';
import { hostileModel, modelOf } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';
import { growth, LINEAR } from '../tools/growth.js';
import { folderOf, RIGS, rowsOf, cellsOf, SMALL } from '../tools/crew-tables.js';

describe('sheets', () => {
  it('are left out where they would be empty', () => {
    const { plan } = modelOf('devices: [{name: cam, senders: [{name: video, legs: [{group: 239.192.10.1}]}]}]');
    expect(crewSheets(plan).map(({ name, rows }) => [name, rows])).toEqual([['streams.csv', 1]]);
    expect(crewSheets(modelOf('devices: [{name: cam}]').plan)).toEqual([]);
  });

  it.each(RIGS)('of %s have a row for every interface, leg, VLAN, port and clock', (rig) => {
    const { plan } = loadPlan(readInputs([folderOf(rig)]).inputs);
    const addresses = plan.switches.reduce((sum, one) => sum + one.addresses.length, 0);
    const counts: Readonly<Record<SheetName, number>> = {
      hosts: plan.interfaces.length + addresses,
      streams: plan.legs.length,
      vlans: plan.vlans.length,
      ports: plan.switches.reduce((sum, one) => sum + one.ports.size, 0),
      clocks: [...plan.devices, ...plan.switches].filter(({ ptp }) => ptp !== undefined && ptp.mode !== 'none').length,
    };
    for (const { name, text, rows } of crewSheets(plan)) {
      const subject = name.replace('.csv', '') as SheetName;
      expect([name, rows]).toEqual([name, counts[subject]]);
      expect(cellsOf(text).length).toBe(rows + 1);
    }
    expect(crewSheets(plan).length).toBe(SHEETS.length);
  });

  it('do not change with the order of the plan', () => {
    const forwards = readInputs([folderOf('dunlin')]).inputs.map(asTextInput);
    const reordered = forwards
      .map(({ name, text, ...rest }) => ({ name, text: reversedDevices(text), ...rest }))
      .toReversed();
    expect(crewSheets(loadPlan(reordered).plan)).toEqual(crewSheets(loadPlan(forwards).plan));
    expect(reordered.some(({ text }, index) => text !== forwards.toReversed()[index]?.text)).toBe(true);
  });

  it('of joined rigs say which rig each row is of', () => {
    const { inputs } = readInputs(RIGS.map(folderOf));
    const { plan } = loadPlan(inputs);
    for (const name of SHEETS) {
      const rigs = new Set(rowsOf(plan, name).map((row) => row['rig']));
      expect([name, [...rigs]]).toEqual([name, ['Dunlin', 'Heron']]);
    }
  });

  it('are safe to open: names are never formulas, commands or further rows', () => {
    const named = fc.oneof(
      fc.constantFrom(...HOSTILE_TEXTS, '=1+1', '+1', '-1', '@x', '\t=1', '"; DROP', 'a","b', "'="),
      fc.string({ minLength: 1, maxLength: 12, unit: 'grapheme' }).filter((name) => !name.includes('/')),
    );
    fc.assert(
      fc.property(named, (name) => {
        const { plan } = hostileModel(
          SMALL,
          /^(stage-10|start pontoon|red-audio|mics|red-core|clock-1|R1)$/,
          (one) => one + name,
        );
        for (const { text, rows } of crewSheets(plan)) {
          const cells = cellsOf(text).flat();
          expect(cellsOf(text).length).toBe(rows + 1);
          for (const cell of cells) expect(cell).toBe(escapeText(cell));
        }
      }),
      { numRuns: 60 },
    );
    const whole = hostileModel(SMALL, /^(stage-10|mics|red-audio)$/, (one) => `=${one}`).plan;
    const cells = crewSheets(whole).flatMap(({ text }) => cellsOf(text).flat());
    expect(cells.filter((cell) => /^[=+@]/.test(cell))).toEqual([]);
    expect(cells).toContain("'=stage-10");
  });

  it('take time in proportion to their streams', () => {
    const planOf = (streams: number) =>
      createModel(loadPlan([{ name: 'large.json', text: JSON.stringify(generatePlan(streams)) }]).plan).plan;
    expect(growth(20_000, planOf, crewSheets)).toBeLessThan(LINEAR);
    const sheets = crewSheets(planOf(20_000));
    expect(sheets.find(({ name }) => name === 'streams.csv')?.rows).toBe(40_000);
  });
});

/** The entries of every list of devices in a YAML text in the opposite order. */
function reversedDevices(text: string): string {
  const [head = '', rest] = text.split(/^devices:\n/m);
  if (rest === undefined) return text;
  const entries = rest.split(/^(?= {2}- name: )/m);
  const [comment = '', ...devices] = /^ {2}- name: /.test(entries[0] ?? '') ? ['', ...entries] : entries;
  return `${head}devices:\n${comment}${devices.toReversed().join('')}`;
}
