/** What a device writes that fits nothing in its kind, and what it leaves out: found once, and gone when mended as advised. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';

/** Cameras of one kind; each may write its sender under another name, or none. */
function rig(senders: readonly (string | undefined)[], more: object = {}): string {
  return JSON.stringify({
    rig: 'Heron',
    networks: [{ name: 'red', role: 'media', leg: 1 }],
    vlans: [{ name: 'red-video', network: 'red' }],
    kinds: [
      {
        name: 'camera',
        interfaces: [{ name: 'red', vlan: 'red-video' }],
        senders: [{ name: 'video', legs: [{ interface: 'red', port: 5004 }] }],
      },
    ],
    devices: [
      ...senders.map((name, index) => ({
        name: `cam-${index + 1}`,
        kind: 'camera',
        ...(name === undefined
          ? {}
          : { senders: [{ name, legs: [{ interface: 'red', group: `239.192.10.${index + 1}`, port: 5004 }] }] }),
      })),
      ...('takes' in more
        ? [
            {
              name: 'wall',
              interfaces: [{ name: 'red', vlan: 'red-video' }],
              receivers: [{ name: 'in', takes: more.takes }],
            },
          ]
        : []),
    ],
  });
}

function found(senders: readonly (string | undefined)[], more: object = {}): readonly string[] {
  const { findings, problems } = lintInputs([{ name: 'plan.json', text: rig(senders, more) }], RULES, {
    today: '2026-06-01',
  });
  expect(problems).toEqual([]);
  return findings
    .filter(({ rule }) => rule === 'plan/not-in-kind' || rule === 'plan/left-out')
    .map(({ rule, severity, touch }) => `${severity} ${rule} ${touch.name}`);
}

describe('a sender under another name than its kind has', () => {
  it.each<[string, readonly string[]]>([
    ['vidoe', ['warning plan/not-in-kind cam-3']],
    ['vide', ['warning plan/not-in-kind cam-3']],
    ['video', []],
    // An addition: then the kind's own has no group, which the others have.
    ['slow-motion', ['warning plan/left-out cam-3']],
    ['video-2', ['warning plan/left-out cam-3']],
  ])('%s', (name, expected) => {
    expect(found(['video', 'video', name])).toEqual(expected);
  });

  it('is an error where somebody takes what was meant', () => {
    expect(found(['video', 'video', 'vidoe'], { takes: 'cam-3/video' })).toEqual(['error plan/not-in-kind cam-3']);
    expect(found(['video', 'video', undefined], { takes: 'cam-3/video' })).toEqual(['error plan/left-out cam-3']);
  });
});

describe('a group that others of the kind have', () => {
  it.each<[string, number, number, number]>([
    ['two others', 2, 1, 1],
    ['one other', 1, 1, 0],
    ['four others for each', 8, 2, 2],
    ['fewer than four for each', 7, 2, 0],
    ['all leave it out', 0, 5, 0],
  ])('%s: one finding a device', (_, stating, lacking, expected) => {
    const senders = [...Array<string>(stating).fill('video'), ...Array<undefined>(lacking).fill(undefined)];
    expect(found(senders)).toHaveLength(expected);
  });
});
