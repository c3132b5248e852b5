import { saying, type Says } from './worded.js';
import type { LabelledLocation, Finding } from '../../src/lint/finding.js';
import type { LintResult } from '../../src/lint/result.js';

/** Results of the invented rig Heron at the Kestrel Bay regatta, for the tests of every reporter. */
export const CLEAN: LintResult = {
  files: [{ name: 'heron.yaml', format: 'yaml' }],
  counts: { devices: 12, interfaces: 24, senders: 30, legs: 60, receivers: 41, switches: 4, links: 5, vlans: 1 },
  boxes: ['cam-3', 'cam-4', 'leaf-a', 'leaf-b'],
  rulesRun: [
    {
      id: 'groups/two-senders',
      summary: 'Two senders use one group.',
      severity: 'error',
      sources: [{ document: 'RFC 1112', clause: '4' }],
    },
    {
      id: 'timing/mixed-domains',
      summary: 'Devices that must share time follow different PTP domains.',
      severity: 'warning',
      sources: [{ practice: 'one PTP domain a rig' }],
    },
  ],
  findings: [],
  waived: [],
  baselineUsed: false,
  known: [],
  staleBaseline: [],
  receivers: { legs: 41, delivered: 41, notDelivered: [], notFollowed: [], unrated: 0, openEnded: 0 },
  rateless: { links: [], ports: [] },
  unaddressed: [],
  notJudged: [],
  assumptions: [],
  crashed: [],
  problems: [],
};

export function place(line: number, label: string, file = 'heron.yaml'): LabelledLocation {
  return { file, line, column: 9, endLine: line, endColumn: 19, label };
}

const COLLISION_SAYS: Says = {
  rule: 'groups/two-senders',
  severity: 'error',
  confidence: 'certain',
  subject: '239.10.1.1 in red',
  parties: ['cam-3/video', 'cam-4/video'],
  what: 'cam-3/video and cam-4/video both send to 239.10.1.1 in network red.',
  at: place(61, 'cam-4/video, leg 1'),
  others: [place(41, 'cam-3/video, leg 1')],
  onAir:
    'Every receiver of the group gets the packets of both cameras mixed: torn or frozen picture as soon as both send.',
  fix: 'Give cam-4/video a group of its own.',
  touch: { kind: 'device', name: 'cam-4' },
  sources: [{ document: 'RFC 1112', clause: '4' }],
};

const CLOCK_SAYS: Says = {
  rule: 'timing/mixed-domains',
  severity: 'warning',
  confidence: 'certain',
  subject: 'PTP domains of rig Heron',
  parties: ['leaf-a', 'leaf-b'],
  what: 'leaf-a keeps PTP domain 127, leaf-b keeps domain 0.',
  at: place(12, 'leaf-b'),
  others: [],
  onAir: 'Sound and picture of the two halves drift apart.',
  fix: 'Set leaf-b to domain 127.',
  touch: { kind: 'switch', name: 'leaf-b' },
  sources: [{ practice: 'one PTP domain a rig' }],
};

export const COLLISION = saying(COLLISION_SAYS);
export const CLOCK = saying(CLOCK_SAYS);

/** The clock's finding with other words. */
export function clockSaying(what: string): Finding {
  return saying({ ...CLOCK_SAYS, what });
}

/** The collision's finding with something changed. */
export function collisionWith(change: Partial<Says>): Finding {
  return saying({ ...COLLISION_SAYS, ...change });
}

/** Everything a result can hold at once. */
export const FULL: LintResult = {
  ...CLEAN,
  findings: [
    CLOCK,
    { ...COLLISION, severity: 'note', subject: '239.10.1.2 in red', at: place(30, 'cam-4/key, leg 1'), others: [] },
    COLLISION,
  ],
  waived: [
    {
      finding: { ...COLLISION, subject: '239.10.9.9 in red' },
      reason: 'Spare camera, never sends.',
      until: '2031-08-31',
    },
  ],
  baselineUsed: true,
  known: [{ ...CLOCK, subject: 'PTP domains of rig Dunlin' }],
  staleBaseline: [{ rule: 'groups/two-senders', subject: '239.10.7.7 in blue' }],
  notJudged: [
    {
      fact: 'multicastRouting',
      rules: ['routing/no-rendezvous-point', 'routing/scope-leak'],
    },
  ],
  assumptions: [{ fact: 'snoopingKey', switches: ['leaf-a', 'leaf-b'] }],
  crashed: [{ rule: 'conventions/own-rule', message: 'Cannot read properties of undefined' }],
  problems: [
    {
      at: { file: 'dunlin plan.csv', line: 7, column: 3, endLine: 7, endColumn: 20 },
      what: '`239.10.300.1` is not an address.',
      instead: 'four numbers from 0 to 255, such as `239.10.30.1`',
    },
  ],
};

/** Commands for terminals, pages and spreadsheets, direction and zero-width characters, half a surrogate pair. */
export const HOSTILE_TEXTS = [
  '\u001b[2J\u001b]0;gone\u0007',
  '\u009b31mred',
  'cam\u202e3-gpj\u202c',
  'a\u200b\u200d\u2060\ufeffb',
  'line\r\nERROR forged\u2028next\u0085more',
  'half \ud800 pair',
  '\u007f\u0000\t\u3164',
  '<script>alert(1)</script> [click](https://kestrel.invalid/{0})',
  '\u{e0041}tag',
];

/** A text in every field that a plan, a file name or the conventions' own rule can fill; `name` where one name is meant. */
export function resultFilledWith(text: string, name = text): LintResult {
  const at = { ...place(1, text), file: name };
  const finding = saying({
    ...COLLISION_SAYS,
    subject: text,
    parties: [text],
    what: text,
    at,
    others: [at],
    onAir: text,
    fix: text,
    touch: { kind: 'device', name: text },
  });
  return {
    ...FULL,
    files: [{ name, format: 'yaml' }],
    findings: [finding],
    waived: [{ finding, reason: text, until: '2031-08-31' }],
    known: [finding],
    staleBaseline: [{ rule: name, subject: text }],
    crashed: [{ rule: name, message: text }],
    problems: [{ at, what: text, instead: text }],
  };
}
