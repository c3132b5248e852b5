/** `growth` is a percentage wherever it counts, `spare` a number of places; all numbers are computed by hand. */
import { describe, expect, it } from 'vitest';
import { allocate } from '../../src/allocate/allocate.js';
import { rawRequest, readRequest } from '../../src/allocate/request.js';

interface Line {
  readonly name: string;
  readonly count?: number;
  readonly spare?: number;
}

function treeOf(devices: readonly object[], growth: number | undefined, switches: number): object {
  return {
    rig: 'Sanderling',
    ...(growth === undefined ? {} : { growth }),
    networks: [{ name: 'red', role: 'media' }],
    vlans: [{ name: 'pictures', network: 'red' }],
    kinds: [{ name: 'box', interfaces: [{ name: 'red', vlan: 'pictures' }] }],
    devices: devices.map((one) => ({ ...one, kind: 'box' })),
    switches: Array.from({ length: switches }, (_, index) => ({ name: `sw-${index + 1}`, network: 'red', ports: 40 })),
  };
}

/** Unit numbers of each line. */
function blocksOf(devices: readonly Line[], growth?: number, switches = 2): Readonly<Record<string, string>> {
  const text = JSON.stringify(treeOf(devices, growth, switches));
  const { document } = readRequest({ name: 'request.json', text });
  if (document === undefined) throw new Error('the request of this test is not one');
  const outcome = allocate(rawRequest(document));
  if ('refusals' in outcome) throw new Error(outcome.refusals.map(({ what }) => what).join('\n'));
  return Object.fromEntries(
    outcome.fullness.flatMap(({ kind, what, range }) =>
      kind === 'units' ? [[what.replace('units of ', ''), range]] : [],
    ),
  );
}

describe('growth', () => {
  it('is a percentage of the count of a line, in whole places', () => {
    // A quarter of 7 is 1.75, so two places are kept free: 7 + 2 = 9.
    expect(blocksOf([{ name: 'cam', count: 7 }], 25)).toEqual({ cam: '11-19' });
    expect(blocksOf([{ name: 'cam', count: 7 }], 0)).toEqual({ cam: '11-17' });
    expect(blocksOf([{ name: 'cam', count: 7 }], 100)).toEqual({ cam: '11-24' });
  });

  it('is 25 where it is not stated', () => {
    const lines = [
      { name: 'cam', count: 7 },
      { name: 'lens', count: 12 },
    ];
    for (const switches of [2, 8]) expect(blocksOf(lines, undefined, switches)).toEqual(blocksOf(lines, 25, switches));
  });

  it('keeps nothing free behind a box without a number', () => {
    expect(blocksOf([{ name: 'desk' }], 100)).toEqual({ desk: '11-11' });
  });

  it('counts for the numbers of switches as for those of boxes', () => {
    // Eight switches and the gateway of a router are 9 numbers: units from 11. A quarter more are 11: units from 21.
    expect(blocksOf([{ name: 'cam', count: 4 }], 0, 8)).toEqual({ cam: '11-14' });
    expect(blocksOf([{ name: 'cam', count: 4 }], 25, 8)).toEqual({ cam: '21-25' });
  });

  it('gives way to the places a line says itself', () => {
    expect(blocksOf([{ name: 'cam', count: 7, spare: 4 }], 25)).toEqual({ cam: '11-21' });
    expect(blocksOf([{ name: 'cam', count: 7, spare: 0 }], 25)).toEqual({ cam: '11-17' });
    expect(blocksOf([{ name: 'desk', spare: 2 }], 25)).toEqual({ desk: '11-13' });
  });

  it('is refused on a line, where it once was a number of places, with the word for that', () => {
    const text = JSON.stringify(treeOf([{ name: 'cam', count: 7, growth: 4 }], 25, 2));
    const { document, problems } = readRequest({ name: 'request.json', text });
    expect(document).toBeUndefined();
    expect(problems.map(({ what, instead }) => [what, instead])).toEqual([
      ['unknown key `growth` in `devices`', 'write `spare`, as it is called since version 0.2'],
    ]);
  });
});
