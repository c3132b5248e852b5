import fc from 'fast-check';
import { stripVTControlCharacters } from 'node:util';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/finding.js';
import { escapeText } from '../../src/page/escape.js';
import { measure } from '../../src/draw/width.js';
import { CAUTION } from '../../src/report/caution.js';
import { lintPage } from '../../src/report/lint/page.js';
import { REPORTERS } from '../../src/reporters/lint.js';
import { headingsOf, textsOf } from '../tools/page-parts.js';
import {
  CLEAN,
  CLOCK,
  clockSaying,
  COLLISION,
  FULL,
  HOSTILE_TEXTS,
  place,
  resultFilledWith,
} from '../tools/report-samples.js';
import { growth, LINEAR } from '../tools/growth.js';

const PLAIN = { version: '0.1.0', width: 80, colour: false };

function lines(...text: readonly string[]): string {
  return `${text.join('\n')}\n`;
}

describe('whole reports', () => {
  it('everything at once, 80 columns', () => {
    expect(REPORTERS.text(FULL, PLAIN)).toBe(
      lines(
        'INPUT THAT COULD NOT BE READ',
        '----------------------------',
        '',
        'UNREAD    `239.10.300.1` is not an address.',
        '  Do      four numbers from 0 to 255, such as `239.10.30.1`',
        '  Where   dunlin plan.csv 7:3',
        '',
        '3 CAUSES IN 2 TASKS, WORST FOR THE SHOW FIRST',
        '---------------------------------------------',
        'Effect on receivers not followed',
        '  1   cam-4/video, leg 1: groups/two-senders',
        '  2   leaf-b: timing/mixed-domains (warning)',
        '  1   cam-4/video, leg 1: groups/two-senders (note)',
        '',
        'TASK 1 of 2: DEVICE cam-4',
        '-------------------------',
        '',
        'ERROR     cam-3/video and cam-4/video both send to 239.10.1.1 in network red.',
        '  On air  Every receiver of the group gets the packets of both cameras mixed:',
        '          torn or frozen picture as soon as both send.',
        '  Do      Give cam-4/video a group of its own.',
        '  Where   heron.yaml 61:9  cam-4/video, leg 1 (change this first)',
        '          41:9  cam-3/video, leg 1',
        '  Source  RFC 1112 §4',
        '  Key     rule    groups/two-senders',
        '          subject 239.10.1.1 in red',
        '',
        'NOTE      cam-3/video and cam-4/video both send to 239.10.1.1 in network red.',
        '  On air  Every receiver of the group gets the packets of both cameras mixed:',
        '          torn or frozen picture as soon as both send.',
        '  Do      Give cam-4/video a group of its own.',
        '  Where   heron.yaml 30:9  cam-4/key, leg 1',
        '  Source  RFC 1112 §4',
        '  Key     rule    groups/two-senders',
        '          subject 239.10.1.2 in red',
        '',
        'TASK 2 of 2: SWITCH leaf-b',
        '--------------------------',
        '',
        'WARNING   leaf-a keeps PTP domain 127, leaf-b keeps domain 0.',
        '  On air  Sound and picture of the two halves drift apart.',
        '  Do      Set leaf-b to domain 127.',
        '  Where   heron.yaml 12:9  leaf-b',
        '  Trade   practice: one PTP domain a rig',
        '  Key     rule    timing/mixed-domains',
        '          subject PTP domains of rig Heron',
        '',
        'SUMMARY',
        '-------',
        'Verdict     1 error, 1 warning and 1 note in 2 tasks. The check is not complete:',
        '            1 place of the input could not be read, 1 rule stopped.',
        'Looked at   1 file; 12 devices, 24 interfaces, 30 senders, 60 legs,',
        '            41 receivers, 4 switches, 5 links, 1 VLAN; 2 rules.',
        'Receivers   41 legs delivered, 0 not delivered, 0 not followed.',
        'Accepted    1 waived in the plan (1 error), 1 known from the baseline (1',
        '            warning).',
        'Outdated    1 entry of the baseline no longer found; take out:',
        '            groups/two-senders about 239.10.7.7 in blue',
        'Not judged  no multicast routing: state `routing` in each routed VLAN (2 rules:',
        '            routing)',
        'Assumed     switches leaf-a and leaf-b: streams are forwarded by group; state',
        '            `snoopingKey`.',
        'Stopped     conventions/own-rule stopped and reports nothing: Cannot read',
        '            properties of undefined',
        'Caution     A clean result is a check on paper, not proof for air. Safety',
        '            intercom and public address follow local codes and competent',
        '            testing.',
        'Left open   part of this plan was not judged; `--fail-at unjudged` makes that',
        '            exit code 1.',
      ),
    );
  });

  it('clean, 80 columns', () => {
    expect(REPORTERS.text(CLEAN, PLAIN)).toBe(
      lines(
        'SUMMARY',
        '-------',
        'Verdict     Clean: 2 rules found nothing, and all 41 receiver legs are',
        '            delivered.',
        'Looked at   1 file; 12 devices, 24 interfaces, 30 senders, 60 legs,',
        '            41 receivers, 4 switches, 5 links, 1 VLAN; 2 rules.',
        'Receivers   41 legs delivered, 0 not delivered, 0 not followed.',
        'Accepted    0 waived in the plan, 0 known from the baseline.',
        'Caution     A clean result is a check on paper, not proof for air. Safety',
        '            intercom and public address follow local codes and competent',
        '            testing.',
      ),
    );
  });

  it('one warning, 40 columns', () => {
    expect(REPORTERS.text({ ...CLEAN, findings: [CLOCK] }, { ...PLAIN, width: 40 })).toBe(
      lines(
        '1 CAUSE IN 1 TASK, WORST FOR THE',
        '    SHOW FIRST',
        '--------------------------------',
        'Effect on receivers not followed',
        '  1   leaf-b: timing/mixed-domains',
        '      (warning)',
        '',
        'TASK 1 of 1: SWITCH leaf-b',
        '--------------------------',
        '',
        'WARNING  leaf-a keeps PTP domain 127,',
        '   leaf-b keeps domain 0.',
        '  On air  Sound and picture of the two',
        '     halves drift apart.',
        '  Do  Set leaf-b to domain 127.',
        '  Where  heron.yaml 12:9  leaf-b',
        '  Trade  practice: one PTP domain a rig',
        '  Key  rule    timing/mixed-domains',
        '     subject PTP domains of rig Heron',
        '',
        'SUMMARY',
        '-------',
        'Verdict  1 warning in 1 task.',
        'Looked at  1 file; 12 devices,',
        '   24 interfaces, 30 senders, 60 legs,',
        '   41 receivers, 4 switches, 5 links,',
        '   1 VLAN; 2 rules.',
        'Receivers  41 legs delivered, 0 not',
        '   delivered, 0 not followed.',
        'Accepted  0 waived in the plan, 0 known',
        '   from the baseline.',
        'Caution  A clean result is a check on',
        '   paper, not proof for air. Safety',
        '   intercom and public address follow',
        '   local codes and competent testing.',
      ),
    );
  });
});

describe('verdict', () => {
  it.each([
    [
      'accepted findings',
      { ...CLEAN, waived: FULL.waived, known: FULL.known },
      'Nothing new, 1 warning known and 1 error waived.',
    ],
    ['areas not judged', { ...CLEAN, notJudged: FULL.notJudged }, 'Nothing found; 2 rules wait for facts.'],
    [
      'streams of unknown rate',
      { ...CLEAN, receivers: { legs: 41, delivered: 41, notDelivered: [], notFollowed: [], unrated: 3, openEnded: 0 } },
      'Nothing found; 3 stream legs of unknown rate, so loads are at least what is said.',
    ],
    [
      'no receivers',
      {
        ...CLEAN,
        receivers: { legs: 0, delivered: 0, notDelivered: [], notFollowed: [], unrated: 0, openEnded: 0 },
      },
      'Nothing found; no receiver leg to follow.',
    ],
    [
      'a rule that stopped',
      { ...CLEAN, crashed: FULL.crashed },
      'No findings, yet not clean. The check is not complete: 1 rule stopped.',
    ],
    ['no rule', { ...CLEAN, rulesRun: [] }, 'Nothing was checked: no rule ran.'],
  ])('with %s', (_, result, verdict) => {
    expect(textsOf(lintPage(result), 'Verdict')).toEqual([verdict]);
    expect(textsOf(lintPage(result), 'Caution')).toEqual([CAUTION]);
  });
});

describe('tasks', () => {
  const note = (name: string, subject: string): Finding => {
    return { ...COLLISION, severity: 'note', subject, touch: { kind: 'device', name } };
  };

  it('come by what they do, of equals by worst severity, then by place and subject', () => {
    const findings = [note('mix-b', '1'), note('mix-a', '2'), note('cam-9', '3'), note('cam-9', '4'), CLOCK];
    expect(headingsOf(lintPage({ ...CLEAN, findings }))).toEqual([
      '5 CAUSES IN 4 TASKS, WORST FOR THE SHOW FIRST',
      'TASK 1 of 4: SWITCH leaf-b',
      'TASK 2 of 4: DEVICE mix-b',
      'TASK 3 of 4: DEVICE mix-a',
      'TASK 4 of 4: DEVICE cam-9',
      'SUMMARY',
    ]);
  });

  it('come out the same whatever the order of findings', () => {
    const findings = [
      ...FULL.findings,
      ...['1', '2', '3', '4'].map((subject) => note('cam-4', subject)),
      ...['5', '6'].map((subject) => note('mix-a', subject)),
      { ...CLOCK, touch: { kind: 'vlan', name: 'leaf-b' } as const, subject: 'VLAN of the same name' },
    ];
    const expected = lintPage({ ...CLEAN, findings });
    fc.assert(
      fc.property(fc.shuffledSubarray(findings, { minLength: findings.length }), (shuffled) => {
        expect(lintPage({ ...CLEAN, findings: shuffled })).toEqual(expected);
      }),
    );
  });

  it('of equal effect and severity come by how many they involve', () => {
    const wide = { ...note('wall', '1'), parties: ['a', 'b', 'c'] };
    const narrow = { ...note('cam-9', '2'), parties: ['a'] };
    expect(headingsOf(lintPage({ ...CLEAN, findings: [narrow, wide] }))).toEqual([
      '2 CAUSES IN 2 TASKS, WORST FOR THE SHOW FIRST',
      'TASK 1 of 2: DEVICE wall',
      'TASK 2 of 2: DEVICE cam-9',
      'SUMMARY',
    ]);
  });

  it('name places from the folder on that all files share, and say the folder once', () => {
    const at = (file: string): Finding['at'] => ({ ...COLLISION.at, file });
    const finding: Finding = {
      ...COLLISION,
      at: at('rigs/heron/cameras.yaml'),
      others: [at('rigs/heron/more/core.yaml')],
      touch: { kind: 'plan', name: 'rigs/heron/cameras.yaml' },
    };
    const files = [
      { name: 'rigs/heron/cameras.yaml', format: 'yaml' as const },
      { name: 'rigs/heron/more/core.yaml', format: 'yaml' as const },
    ];
    const page = lintPage({ ...CLEAN, findings: [finding], files });
    expect(textsOf(page, 'Where')).toEqual([
      'cameras.yaml 61:9  cam-4/video, leg 1 (change this first)',
      'more/core.yaml 61:9  cam-4/video, leg 1',
    ]);
    expect(headingsOf(page)).toEqual([
      '1 CAUSE IN 1 TASK, WORST FOR THE SHOW FIRST',
      'TASK 1 of 1: PLAN cameras.yaml',
      'SUMMARY',
    ]);
    expect(textsOf(page, 'Looked at')[0]).toMatch(/^2 files in rigs\/heron\/; /);
    expect(JSON.stringify(page).match(/rigs\/heron/g)).toHaveLength(1);
    const apart = [...files, { name: 'heronry/notes.yaml', format: 'yaml' as const }];
    expect(textsOf(lintPage({ ...CLEAN, findings: [finding], files: apart }), 'Where')[0]).toBe(
      'rigs/heron/cameras.yaml 61:9  cam-4/video, leg 1 (change this first)',
    );
  });

  it('list all places where only one more would be cut', () => {
    const others = Array.from({ length: 6 }, (_, index) => place(index + 100, `mon-${index}`));
    const places = textsOf(lintPage({ ...CLEAN, findings: [{ ...COLLISION, others }] }), 'Where');
    expect(places).toHaveLength(7);
    expect(places[0]).toBe('heron.yaml 61:9  cam-4/video, leg 1 (change this first)');
    expect(places.slice(1)).toEqual(others.map(({ line, label }) => `${line}:9  ${label}`));
  });

  it('list six places beside the first, and count the rest', () => {
    const others = Array.from({ length: 399 }, (_, index) => place(index + 100, `mon-${index}`));
    const places = textsOf(lintPage({ ...CLEAN, findings: [{ ...COLLISION, others }] }), 'Where');
    expect(places).toHaveLength(7);
    expect(places[5]).toBe('104:9  mon-4');
    expect(places[6]).toBe('and 394 more, all in the JSON report');
  });
});

describe('hostile text', () => {
  /** By number, apart from the expression under test: C0 but line feed, DEL, C1, UAX 9 controls, UAX 14 BK. */
  const isUnsafe = (code: number): boolean => {
    return (
      (code < 0x20 && code !== 0x0a) ||
      (code >= 0x7f && code <= 0x9f) ||
      [0xad, 0x61c, 0x2028, 0x2029, 0xfeff].includes(code) ||
      (code >= 0x200b && code <= 0x200f) ||
      (code >= 0x202a && code <= 0x202e) ||
      (code >= 0x2060 && code <= 0x206f) ||
      (code >= 0xd800 && code <= 0xdfff) ||
      (code >= 0xe0000 && code <= 0xe007f)
    );
  };
  const unsafeIn = (text: string): readonly string[] => {
    return Array.from(text).filter((character) => isUnsafe(character.codePointAt(0) ?? 0));
  };
  const anyText = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.constantFrom(...HOSTILE_TEXTS),
    fc.string({ unit: fc.constantFrom('\u001b[1m', '\u009b', '\ud800', '\udc00', '\u202e', 'a', ' ', '\n', '\u2028') }),
  );

  it('is seen by the check below', () => {
    for (const text of HOSTILE_TEXTS.filter((one) => !one.startsWith('<'))) expect(unsafeIn(text)).not.toEqual([]);
  });

  it('never reaches the terminal without colour', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(unsafeIn(REPORTERS.text(resultFilledWith(text), PLAIN))).toEqual([]);
      }),
    );
  });

  it('with colour adds only SGR sequences, and those only repeat what words say', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const coloured = REPORTERS.text(resultFilledWith(text), { ...PLAIN, colour: true });
        const stripped = coloured.replaceAll(/\u001b\[\d+m/g, '');
        expect(stripped).not.toBe(coloured);
        expect(stripped).toBe(stripVTControlCharacters(coloured));
        expect(stripped).toBe(REPORTERS.text(resultFilledWith(text), PLAIN));
      }),
    );
  });

  it('cannot start a line of its own', () => {
    const forged = REPORTERS.text(resultFilledWith('x\nERROR forged\nSUMMARY'), { ...PLAIN, width: 40 });
    expect(forged.match(/^(ERROR|SUMMARY)\b/gm)).toEqual(['ERROR', 'SUMMARY']);
  });

  it('shows its number', () => {
    expect(escapeText('\u001b[2J')).toBe('\\u{1b}[2J');
    expect(escapeText('cam\u202e3')).toBe('cam\\u{202e}3');
    expect(escapeText('half \ud800 pair')).toBe('half \\u{d800} pair');
    expect(escapeText('Zürich 水上 🚣🏽 ⚠️')).toBe('Zürich 水上 🚣🏽 ⚠️');
  });
});

describe('width', () => {
  it.each([
    // East Asian Width W or F takes two columns, any other one: Unicode Standard Annex 11, EastAsianWidth.txt.
    ['cam-3', 5],
    ['水上', 4],
    ['ｶﾒﾗ', 3],
    ['ＡＢ', 4],
    ['한강', 4],
    ['é', 1],
    // Nonspacing marks take none (from memory: the wcwidth convention of terminals).
    ['e\u0301', 1],
    ['กี่', 1],
    // Emoji presentation is wide: Unicode Standard Annex 11 §5.2, Technical Standard 51 §4.
    ['🚣', 2],
    ['🚣🏽', 2],
    ['⚠️', 2],
    ['🇨🇭', 2],
    ['☝🏽', 2],
    ['1️⃣', 2],
    ['🚣🚣', 4],
    ['か\u3099', 2],
    // Conjoining jamo form one wide syllable: Unicode Standard Annex 29, rules GB6 to GB8.
    ['\ud55c', 2],
    ['\u1112\u1161\u11ab', 2],
  ])('of %s is %i', (text, columns) => {
    expect(measure(text)).toBe(columns);
  });

  it('is kept from 40 to 200 columns but for single words that are wider', () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 300 });
    const name = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 }).map((one) => one.replaceAll(' ', '-'));
    fc.assert(
      fc.property(text, name, fc.integer({ min: 40, max: 200 }), (filling, file, width) => {
        for (const line of REPORTERS.text(resultFilledWith(filling, file), { ...PLAIN, width }).split('\n')) {
          if (measure(line) <= width) continue;
          expect(line).toMatch(/^(ERROR|UNREAD| {2}(On air|Do|Where|Write)|Stopped)? *[^ ]+( \d+:\d+)?$/);
        }
      }),
    );
  });

  it('is used: no line could have taken the next word', () => {
    const what = 'one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen';
    const text = REPORTERS.text({ ...CLEAN, findings: [clockSaying(what)] }, { ...PLAIN, width: 44 });
    expect(text).toContain(
      lines(
        'WARNING  one two three four five six seven',
        '   eight nine ten eleven twelve thirteen',
        '   fourteen fifteen sixteen',
      ),
    );
  });

  it('breaks scripts without spaces between letters', () => {
    const what = '水上競技の映像が届かない'.repeat(4);
    const text = REPORTERS.text({ ...CLEAN, findings: [clockSaying(what)] }, { ...PLAIN, width: 40 });
    // A wide letter leaves one column over.
    expect(Math.max(...text.split('\n').map(measure))).toBeGreaterThanOrEqual(39);
    expect(Math.max(...text.split('\n').map(measure))).toBeLessThanOrEqual(40);
    expect(text.replaceAll(/\s/g, '')).toContain(what);
  });

  it('grows in time with the text, not with its square', () => {
    for (const letters of ['水', ' ', '.é', '\n', 'ab ']) {
      const finding = (size: number) => {
        const what = `x${letters.repeat(size)}x`;
        return { ...clockSaying(what), subject: what };
      };
      const time = growth(240_000, finding, (one) => REPORTERS.text({ ...CLEAN, findings: [one] }, PLAIN));
      expect(time, JSON.stringify(letters)).toBeLessThan(LINEAR);
    }
  });

  it('never breaks an address or a path', () => {
    const whole = ['2001:db8:1111:2222:3333:4444:5555:6666/64', 'rigs/水上競技水上競技水上競技水上競技水上競技.yaml'];
    const what = `Change ${whole.join(' and ')}.`;
    const text = REPORTERS.text({ ...CLEAN, findings: [clockSaying(what)] }, { ...PLAIN, width: 40 });
    for (const word of whole) expect(text).toContain(word);
  });
});
