/** Shapes of input that once stopped the program or were called by another's name. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Rule } from '../../src/lint/rule.js';
import { inputOf, readDocument } from '../../src/read/index.js';

const TODAY = '2026-06-01';

describe('a character no file may hold', () => {
  // YAML 1.2.2 §5.1: of the C0 controls only tab, line feed and carriage return are printable.
  it.each([
    ['plain', 'rig: X\nabout: a\u0007b\n'],
    ['in double quotes', 'rig: X\nabout: "a\u0007b"\n'],
    ['in a comment of its line', 'rig: X\nabout: a\u0001\n'],
  ])('is called a control character, not a tab: %s', (_, text) => {
    const { problems } = readDocument({ name: 'p.yaml', text });
    expect(problems).toMatchObject([{ at: { line: 2 }, what: expect.stringContaining('control character') as string }]);
  });

  it('and a tab is called a tab', () => {
    const { problems } = readDocument({ name: 'p.yaml', text: 'devices:\n\t- name: cam-1\n' });
    expect(problems).toMatchObject([{ what: 'a tab is used for indentation' }]);
  });

  // Unicode 15 §3.9, D91 and D92: a surrogate without its pair is ill-formed in every encoding form.
  const units = (text: string, big: boolean): Uint8Array => {
    const codes = [0xfeff, ...Array.from({ length: text.length }, (_, index) => text.charCodeAt(index))];
    return Uint8Array.from(codes.flatMap((code) => (big ? [code >> 8, code & 255] : [code & 255, code >> 8])));
  };
  it.each([
    ['UTF-16, low byte first', units('rig: A\ud800B\n', false), 'UTF-16'],
    ['UTF-16, high byte first', units('rig: A\udc00B\n', true), 'UTF-16'],
    ['UTF-16 of an odd number of bytes', units('rig: AB\n', false).subarray(0, 15), 'UTF-16'],
    ['UTF-8', Uint8Array.from([...new TextEncoder().encode('rig: A'), 0xed, 0xa0, 0x80, 0x0a]), 'UTF-8'],
  ])('half a character is refused in %s', (_, bytes, said) => {
    const read = inputOf('p.yaml', bytes);
    expect(read).toMatchObject({ at: { line: 1 }, what: `there are bytes here that are not ${said} text` });
  });

  it('and a whole one is taken in each', () => {
    for (const bytes of [units('rig: 𝕏\n', false), units('rig: 𝕏\n', true), new TextEncoder().encode('\ufeffrig: 𝕏\n')])
      expect(inputOf('p.yaml', bytes)).toMatchObject({ text: 'rig: 𝕏\n' });
  });
});

describe('subnets at the end of the address space', () => {
  it.each([
    ['subnet6', 'ff00::/8', 'ff00::/8'],
    ['subnet6', 'c000::/2', 'c000::/2'],
    ['subnet6', '::/0', '::/0'],
    ['subnet6', 'ffff:ffff:ffff:ffff:ffff:ffff:ffff:fffe/127', 'ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff/128'],
    ['subnet', '192.0.0.0/2', '192.0.0.0/2'],
    ['subnet', '255.255.255.0/24', '255.255.255.0/24'],
  ])('overlap, and no rule stops: %s %s and %s', (key, one, other) => {
    const text = `vlans:\n  - {name: a, id: 10, ${key}: '${one}'}\n  - {name: b, id: 11, ${key}: '${other}'}\n`;
    const { crashed, findings, problems } = lintInputs([{ name: 'p.yaml', text }], RULES, { today: TODAY });
    expect([crashed, problems]).toEqual([[], []]);
    expect(findings.map(({ rule }) => rule)).toContain('subnets/overlap');
  });
});

describe('a convention rule that yields what is no finding', () => {
  const good = { subject: 'a', facts: {}, touch: { kind: 'plan', name: 'p' } };
  const PLACE = { label: 'x', place: { document: { locate: () => [] }, container: {} } };
  it.each([
    ['no place', { ...good, at: undefined }, 'about `a` whose `at` is no place'],
    ['an empty place', { ...good, at: { label: 'x', place: {} } }, 'about `a` whose `at` is no place'],
    ['no subject', { at: undefined }, 'without a `subject`'],
    ['hits that are names', { ...good, at: PLACE, hits: ['wall/in'] }, 'whose `hits` are no list of receivers'],
    ['nothing', undefined, 'that is no object'],
  ])('is named: %s', (_, draft, said) => {
    const rule = {
      id: 'our/odd',
      summary: 's',
      severity: 'error',
      sources: [],
      needs: [],
      check: () => [draft],
      words: () => ({ what: '', onAir: '', fix: '' }),
    } as unknown as Rule;
    const { crashed } = lintInputs([{ name: 'p.yaml', text: 'rig: X\n' }], [rule], { today: TODAY });
    expect(crashed).toMatchObject([{ rule: 'our/odd', message: expect.stringContaining(said) as string }]);
  });
});
