/**
 * Cures cure: over every bad example of every rule, carrying out a cure removes its finding and brings no other error or
 * warning; every rule says its edits or why people decide. Set CURES to a file to have the sums written there.
 */
import { appendFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { carryOutEach, type Carried } from '../tools/cures.js';
import { read, ruleFolders, type RuleFolder } from './load.js';

const TODAY = '2026-06-01';
const BAD = /^bad(-[a-z0-9-]+)?\.(yaml|json|csv|sdp)$/;

describe.each(ruleFolders())('$id', (folder) => {
  const carried = folder.files.filter((file) => BAD.test(file)).flatMap((file) => carriedIn(folder, file));

  it('has cures that cure', () => {
    const log = process.env['CURES'];
    if (log !== undefined) appendFileSync(log, carried.map((one) => line(folder, one)).join(''));
    expect(carried.filter(({ failed }) => failed !== undefined).map((one) => line(folder, one))).toEqual([]);
  });
});

function carriedIn(folder: RuleFolder, file: string): readonly Carried[] {
  const beside = folder.files.filter((other) => other.startsWith(`${file.replace(/\.[a-z]+$/, '')}.beside.`));
  const inputs = [file, ...beside].map((name) => ({ name, text: read(folder, name) }));
  return carryOutEach(inputs, TODAY);
}

function line({ id }: RuleFolder, { finding, certainty, failed, why }: Carried): string {
  const said = failed ?? (why?.kind === 'people' ? why.why : '');
  return `${certainty}\t${failed === undefined ? 'ok' : 'FAILED'}\t${id}\t${finding.at.file}:${finding.at.line}\t${finding.subject}\t${said}\n`;
}
