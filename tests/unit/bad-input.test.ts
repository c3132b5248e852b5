/** Bad input gives a clear problem at its place, in bounded time and memory, and never a stack trace. */
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { lintInputs } from '../../src/lint/lint.js';
import { readDocument } from '../../src/read/index.js';
import { decode } from '../../src/read/text.js';
import type { Problem } from '../../src/source/problem.js';
import { growth, LINEAR } from '../tools/growth.js';

function problems(name: string, text: string): readonly Problem[] {
  const result = lintInputs([{ name, text }], [], { today: '2026-06-01' });
  expect(result.findings).toEqual([]);
  return result.problems;
}

function shown(problem: Problem | undefined): string {
  return problem === undefined
    ? 'nothing'
    : `${problem.at.line}:${problem.at.column} ${problem.what} | ${problem.instead}`;
}

describe('one fault, one clear problem', () => {
  it.each([
    ['truncated YAML', 'p.yaml', 'rig: Heron\ndevices: [{name: cam-1, interfaces: [{name: red', '2:'],
    ['an open quote', 'p.yaml', 'rig: "Heron\ndevices: []\n', ''],
    ['truncated JSON', 'p.json', '{"rig": "Heron", "devices": [{"name": "cam-1"', '1:46'],
    ['a trailing comma', 'p.json', '{"rig": "Heron",}', '1:17'],
    ['a single quote in JSON', 'p.json', "{'rig': 'Heron'}", '1:2'],
    ['a duplicate YAML key', 'p.yaml', 'rig: Heron\nrig: Dunlin\n', '2:1'],
    ['a duplicate JSON key', 'p.json', '{"rig": "Heron",\n "rig": "Dunlin"}', '2:2'],
    ['a tab', 'p.yaml', 'devices:\n\t- name: cam-1\n', '2:1'],
    ['two documents', 'p.yaml', 'rig: Heron\n---\nrig: Dunlin\n', '2:1'],
    ['an empty file', 'p.yaml', '', '1:1'],
    ['only a comment', 'p.yaml', '# nothing yet\n', '1:1'],
    ['a list', 'p.yaml', '- cam-1\n- cam-2\n', '1:1'],
    ['just text', 'p.yaml', 'Heron', '1:1'],
    ['a number for a name', 'p.yaml', 'devices:\n  - name: 7\n', '2:11'],
    ['text for a number', 'p.yaml', 'vlans:\n  - {name: red, id: "12"}\n', '2:21'],
    ['an entry for a list', 'p.yaml', 'devices:\n  cam-1: {area: shore}\n', '2:3'],
    ['a missing name', 'p.yaml', 'devices:\n  - area: shore\n', '2:5'],
    ['an empty value', 'p.yaml', 'devices:\n  - name: cam-1\n    kind:\n', '3:9 '],
    [
      'a wrong address',
      'p.yaml',
      'devices:\n  - name: cam-1\n    interfaces: [{name: red, address: 10.1.2.300/24}]\n',
      '3:39',
    ],
    [
      'an address with a leading zero',
      'p.yaml',
      'devices:\n  - name: cam-1\n    interfaces: [{name: red, address: 010.1.2.3}]\n',
      '3:39',
    ],
    ['a prefix that is too long', 'p.yaml', 'vlans:\n  - {name: red, subnet: 10.0.0.0/33}\n', '2:25'],
    ['a backward range', 'p.yaml', 'vlans:\n  - {name: red, dhcp: 10.0.0.9-10.0.0.1}\n', '2:23'],
    ['a backward port range', 'p.yaml', 'switches:\n  - {name: leaf-a, ports: [{name: 8-1}]}\n', '2:35'],
    [
      'a wrong MAC',
      'p.yaml',
      'devices:\n  - name: cam-1\n    interfaces: [{name: red, mac: 02:00:5e:10:00}]\n',
      '3:35',
    ],
    ['a rate without a unit word', 'p.yaml', 'links:\n  - {ends: [a/1, b/1], rate: fast}\n', '2:30'],
    ['a time without a unit', 'p.yaml', 'formats:\n  - {name: stereo, packetTime: "1"}\n', '2:32'],
    ['a name with an escape code', 'p.yaml', 'devices:\n  - name: "cam\\e[31m1"\n', '2:11'],
    ['a name with a line break', 'p.json', '{"devices": [{"name": "cam\\n1"}]}', '1:23'],
    ['a name with a slash', 'p.yaml', 'devices:\n  - name: cam/1\n', '2:11'],
    ['__proto__ in YAML', 'p.yaml', '__proto__:\n  rig: Heron\n', '1:1'],
    ['__proto__ in JSON', 'p.json', '{"devices": [{"name": "a", "__proto__": {"kind": "b"}}]}', '1:28'],
    ['constructor as a key', 'p.yaml', 'constructor: 1\n', '1:1'],
    ['a tag that asks for code', 'p.yaml', 'rig: !!js/function "function(){}"\n', ''],
  ])('%s', (_, name, text, where) => {
    const found = problems(name, text);
    expect(found.map(shown)).toHaveLength(1);
    const [problem] = found;
    expect(shown(problem).startsWith(where), shown(problem)).toBe(true);
    expect(problem?.what).not.toMatch(/undefined|\[object|at .*\.js:/);
    expect(problem?.instead.length).toBeGreaterThan(3);
  });

  it('names the nearest right key', () => {
    expect(
      shown(problems('p.yaml', 'devices:\n  - name: cam-1\n    interfaces: [{name: red, adress: 10.1.2.3}]\n')[0]),
    ).toContain('write `address`');
    expect(shown(problems('p.yaml', 'divices: []\n')[0])).toContain('write `devices`');
    expect(shown(problems('p.yaml', 'networks: [{name: red, role: meda}]\n')[0])).toContain('write `media`');
  });

  it('every fault of a file is named, at most twenty', () => {
    expect(problems('p.yaml', 'devices:\n  - {name: a, knid: b}\n  - {name: c, aera: d}\n')).toHaveLength(2);
    expect(problems('p.yaml', `devices:\n${'  - {name: a, knid: b}\n'.repeat(500)}`)).toHaveLength(20);
  });

  it('an unknown waiver rule names the nearest right one', () => {
    const rule = {
      id: 'groups/two-senders',
      summary: 'S',
      severity: 'error',
      sources: [],
      needs: [],
      check: () => [],
      words: () => ({ what: '', onAir: '', fix: '' }),
    } as const;
    const result = lintInputs(
      [{ name: 'p.yaml', text: 'waivers:\n  - {rule: groups/two-sender, subject: x, reason: y}\n' }],
      [rule],
      { today: '2026-06-01' },
    );
    expect(result.problems.map(shown)[0]).toMatch(/^2:12 .*groups\/two-sender.*did you mean `groups\/two-senders`/);
  });

  it('an unknown threshold names the nearest right one', () => {
    const rule = {
      id: 'subnets/nearly-full',
      summary: 'S',
      severity: 'error',
      sources: [],
      needs: [],
      thresholds: { percent: { default: 90, what: 'x' } },
      check: () => [],
      words: () => ({ what: '', onAir: '', fix: '' }),
    } as const;
    const result = lintInputs(
      [{ name: 'p.yaml', text: 'conventions:\n  thresholds: {subnets/nearly-full.percnt: 80}\n' }],
      [rule],
      { today: '2026-06-01' },
    );
    expect(result.problems.map(shown)[0]).toMatch(/^2:16 .*did you mean `subnets\/nearly-full.percent`/);
  });
});

describe('bounds', () => {
  it('an alias bomb is refused before it goes off', () => {
    const bomb = (size: number): string => {
      const levels = Array.from(
        { length: size },
        (_, level) => `  - &l${level + 1} {name: n${level}, receivers: [${`*l${level}, `.repeat(9)}*l${level}]}`,
      );
      return `kinds:\n  - &l0 {name: x}\n${levels.join('\n')}\n`;
    };
    expect(problems('p.yaml', bomb(12)).length).toBeGreaterThan(0);
    expect(growth(24, bomb, (text) => problems('p.yaml', text))).toBeLessThan(LINEAR);
  });

  it('a thousand aliases of a thousand devices are refused', () => {
    const text = (size: number): string =>
      `kinds:\n  - name: k\n    senders: &s\n${'      - {name: s}\n'.repeat(size)}devices:\n${'  - {name: d, senders: *s}\n'.repeat(size)}`;
    expect(problems('p.yaml', text(3000)).map(shown).join()).toMatch(/aliases/);
    // A quarter is refused too.
    expect(problems('p.yaml', text(4000)).map(shown).join()).toMatch(/aliases/);
    expect(growth(16_000, text, (one) => problems('p.yaml', one))).toBeLessThan(LINEAR);
  });

  it('an alias that holds itself is refused', () => {
    expect(problems('p.yaml', 'kinds: &k\n  - name: a\n    interfaces: *k\n').length).toBeGreaterThan(0);
  });

  it.each([
    ['ten megabytes of one line', 'p.yaml', 10_000_000, 4_000_000, (size: number) => `rig: ${'a'.repeat(size)}`],
    [
      'ten megabytes of one JSON line',
      'p.json',
      10_000_000,
      4_000_000,
      (size: number) => `{"rig": "${'a'.repeat(size)}"}`,
    ],
    ['ten megabytes of brackets', 'p.json', 10_000_000, 4_000_000, (size: number) => '['.repeat(size)],
    ['ten thousand open YAML brackets', 'p.yaml', 10_000, 10_000, (size: number) => '['.repeat(size)],
    ['ten megabytes of quotes', 'p.json', 10_000_000, 4_000_000, (size: number) => `${'"'.repeat(size)}"`],
    [
      'a million keys',
      'p.json',
      1_000_000,
      100_000,
      (size: number) => `{${Array.from({ length: size }, (_, index) => `"k${index}":1`).join()}}`,
    ],
    ['a million colons', 'p.yaml', 1_000_000, 400_000, (size: number) => ':'.repeat(size)],
  ])('%s', (_, name, size, measured, text) => {
    const found = problems(name, text(size));
    expect(found.length).toBeGreaterThan(0);
    expect(found.length).toBeLessThanOrEqual(20);
    for (const problem of found) expect(problem.what.length).toBeLessThan(400);
    // Less shows growth as well and leaves the collector of garbage in peace.
    expect(growth(measured, text, (one) => problems(name, one))).toBeLessThan(LINEAR);
  });

  it('no text makes a reader throw', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('p.yaml', 'p.json', 'p.csv', 'p.sdp', 'p'),
        fc.string({ unit: 'binary', maxLength: 200 }),
        (name, text) => {
          const read = readDocument({ name, text });
          expect(read.document !== undefined || read.problems.length > 0).toBe(true);
        },
      ),
      { numRuns: 2_000 },
    );
  });
});

describe('encodings', () => {
  const plan = 'rig: Hérön\n';
  const codes = Array.from(plan, (letter) => letter.charCodeAt(0));
  const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

  it.each([
    ['UTF-8', bytes(plan)],
    ['UTF-8 with a byte order mark', new Uint8Array([0xef, 0xbb, 0xbf, ...bytes(plan)])],
    ['UTF-16, low byte first', new Uint8Array([0xff, 0xfe, ...codes.flatMap((code) => [code & 255, code >> 8])])],
    ['UTF-16, high byte first', new Uint8Array([0xfe, 0xff, ...codes.flatMap((code) => [code >> 8, code & 255])])],
  ])('%s is read', (_, encoded) => {
    expect(decode('p.yaml', encoded)).toEqual({ text: plan });
  });

  it('another encoding is named with its place', () => {
    const decoded = decode('p.csv', new Uint8Array([...bytes('rig\n'), 0x48, 0xe9, 0x72]));
    expect('problem' in decoded ? shown(decoded.problem) : '').toMatch(/^2:2 .*UTF-8/);
  });
});
