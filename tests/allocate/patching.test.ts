/** Where boxes are plugged: by area, elsewhere with a word about it, and back where they were. */
import { describe, expect, it } from 'vitest';
import { allocate, type Allocation } from '../../src/allocate/allocate.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';
import { loadPlan } from '../../src/plan/load.js';

interface Line {
  readonly name: string;
  readonly area: string;
  readonly count?: number;
}

function requestFor(devices: readonly Line[], ports = 3): RawRequest {
  const text = JSON.stringify({
    rig: 'Sanderling',
    growth: 0,
    networks: [{ name: 'red', role: 'media' }],
    vlans: [{ name: 'pictures', network: 'red' }],
    areas: [{ name: 'truck' }, { name: 'jetty' }, { name: 'tower' }],
    kinds: [{ name: 'box', interfaces: [{ name: 'red', vlan: 'pictures' }] }],
    devices: devices.map((one) => ({ ...one, kind: 'box', spare: 0 })),
    switches: [
      { name: 'core', network: 'red', area: 'truck', ports: 8 },
      { name: 'shore', network: 'red', area: 'jetty', ports },
    ],
  });
  const { document, problems } = readRequest({ name: 'request.json', text });
  expect(problems).toEqual([]);
  if (document === undefined) throw new Error('the request of this test is not one');
  return rawRequest(document);
}

function allocated(request: RawRequest, surroundings?: Parameters<typeof allocate>[1]): Allocation {
  const outcome = allocate(request, surroundings);
  if ('refusals' in outcome) throw new Error(outcome.refusals.map(({ what }) => what).join('\n'));
  return outcome;
}

function portsOf({ plan }: Allocation): Readonly<Record<string, string | undefined>> {
  return Object.fromEntries((plan.devices ?? []).map(({ name, interfaces }) => [name, interfaces?.[0]?.port]));
}

describe('a box', () => {
  it('is plugged into a switch of its area, and elsewhere only with a word that names both', () => {
    const fits = allocated(requestFor([{ name: 'cam', area: 'jetty', count: 3 }]));
    expect(Object.values(portsOf(fits))).toEqual(['shore/1', 'shore/2', 'shore/3']);
    expect(fits.notes).toEqual([]);
    const full = allocated(requestFor([{ name: 'cam', area: 'jetty', count: 4 }]));
    expect(portsOf(full)['cam-4']).toBe('core/1');
    expect(full.notes).toEqual([
      'cam-4 stands in area jetty and is plugged into core in area truck: the switches of network red in area jetty have no port left that is fast enough',
    ]);
    const bare = allocated(requestFor([{ name: 'cam', area: 'tower', count: 2 }]));
    expect(bare.notes).toEqual([
      'cam-1 and cam-2 stand in area tower and are plugged into core in area truck: network red has no switch in area tower',
    ]);
  });

  it('that comes back has its port again, which went to nobody else while another was free', () => {
    const first = allocated(
      requestFor([
        { name: 'cam', area: 'jetty' },
        { name: 'mic', area: 'jetty' },
      ]),
    );
    const before = portsOf(first);
    const away = allocated(
      requestFor([
        { name: 'mic', area: 'jetty' },
        { name: 'new', area: 'jetty' },
      ]),
      {
        keep: [first.plan],
      },
    );
    expect(away.plan.numbering?.held).toMatchObject([
      { device: 'cam', ports: [{ interface: 'red', port: before['cam'] }] },
    ]);
    expect(portsOf(away)['new']).not.toBe(before['cam']);
    const back = allocated(
      requestFor([
        { name: 'cam', area: 'jetty' },
        { name: 'mic', area: 'jetty' },
        { name: 'new', area: 'jetty' },
      ]),
      { keep: [away.plan] },
    );
    expect(portsOf(back)).toMatchObject({ ...before, new: portsOf(away)['new'] });
    // Where no other is free, the living come before the absent.
    const crowded = allocated(
      requestFor([
        { name: 'mic', area: 'jetty' },
        { name: 'new', area: 'jetty', count: 2 },
      ]),
      { keep: [first.plan] },
    );
    expect(Object.values(portsOf(crowded))).toContain(before['cam']);
  });

  it('may share its name with one of a rig to keep clear of, and is told', () => {
    const { plan } = loadPlan([{ name: 'heron.yaml', text: 'rig: Heron\ndevices: [{name: cam}, {name: desk}]\n' }]);
    const { notes } = allocated(requestFor([{ name: 'cam', area: 'jetty' }]), { plans: [plan] });
    expect(notes).toEqual([
      'Heron, to be kept clear of, has boxes of the same names, which nobody can tell apart on the radio: cam',
    ]);
  });
});
