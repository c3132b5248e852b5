/** Where a stream goes by the settings of its switches, beyond what tests/twin compares with a Linux kernel. */
import { describe, expect, it } from 'vitest';
import { createModel } from '../../src/model/model.js';
import { buildLoad } from '../../src/model/network/load.js';
import { LINUX_SWITCH, planOf, type ShortHost, type ShortRig } from '../twin/rigs.js';
import { modelled, resolve } from '../twin/twin.js';

const CAM = { name: 'cam', at: 'left', address: '10.0.0.1', sends: ['239.1.1.1'] } as const;
const SECOND = { name: 'second', at: 'left', address: '10.0.0.2', sends: ['239.1.1.1'] } as const;
const SPARE = { name: 'spare', at: 'left', address: '10.0.0.9' } as const;
const TAKES = { name: 'monitor', at: 'left', address: '10.0.0.3', receives: [{ takes: 'cam/239.1.1.1' }] } as const;
const QUERIER = [{ on: 'left', address: '10.0.250.1' }] as const;

function rig(hosts: readonly ShortHost[], settings: ShortRig['vlans'][string]): ShortRig {
  return { vlans: { red: settings }, switches: ['left', 'right'], links: [], hosts };
}

describe('a receiver that names no source', () => {
  it('gets every sender of its group, though switches key by source and group (RFC 3376 §3.2)', () => {
    const said = modelled(resolve(rig([CAM, SECOND, TAKES], { queriers: QUERIER })));
    expect(said['second/239.1.1.1']?.hosts).toEqual(['monitor']);
  });

  it('gets the one it takes only where it joins the stated source', () => {
    const stated = { ...TAKES, receives: [{ takes: 'cam/239.1.1.1', join: 'stated' }] } as const;
    expect(modelled(resolve(rig([CAM, SECOND, stated], { queriers: QUERIER })))['second/239.1.1.1']?.hosts).toEqual([]);
    expect(
      modelled(resolve(rig([CAM, SECOND, stated], { queriers: QUERIER, version: 2 })))['second/239.1.1.1']?.hosts,
    ).toEqual(['monitor']);
  });
});

/** Measured on Linux 6.18 bridges as V27e and V27f: id takes the group from hc alone, ha from anyone; hb sends it too. */
describe('hosts and queriers of an older version', () => {
  const GROUP = '239.1.1.1';
  const of = (version: 2 | 3, key: string, old: boolean): Readonly<Record<string, readonly string[]>> => {
    const short: ShortRig = {
      vlans: { red: { version, queriers: [{ on: 'b', address: '10.0.250.1' }] } },
      switches: ['a', 'b', 'c', 'd'],
      links: [{ between: ['a', 'b'] }, { between: ['b', 'c'] }, { between: ['c', 'd'] }],
      hosts: [
        ...(old ? [{ name: 'ha', at: 'a', address: '10.0.0.1', receives: [{ group: GROUP }] }] : []),
        { name: 'hb', at: 'b', address: '10.0.0.2', sends: [GROUP] },
        { name: 'hc', at: 'c', address: '10.0.0.3', sends: [GROUP] },
        { name: 'id', at: 'd', address: '10.0.0.4', receives: [{ takes: `hc/${GROUP}`, join: 'stated' }] },
      ],
    };
    const about = { ...LINUX_SWITCH, snoopingKey: key };
    const raw = planOf(short, about) as { devices: { name: string; interfaces: object[] }[] };
    const devices = raw.devices.map((one) =>
      one.name === 'ha' ? { ...one, interfaces: one.interfaces.map((via) => ({ ...via, igmpVersion: 2 })) } : one,
    );
    const said = modelled(resolve(short, about, { ...raw, devices }));
    return Object.fromEntries(['hb', 'hc'].map((name) => [name, said[`${name}/${GROUP}`]?.hosts ?? []]));
  };

  it('V27e one host of IGMPv2 has the group from anyone, the other one from its source', () => {
    expect(of(3, 'source-group', true)).toEqual({ hb: ['ha'], hc: ['ha', 'id'] });
  });

  it.each(['group', 'mac'])('V27e the other one gets both where switches key by %s', (key) => {
    expect(of(3, key, true)).toEqual({ hb: ['ha', 'id'], hc: ['ha', 'id'] });
  });

  it('V27f a querier of IGMPv2 takes the sources from all', () => {
    expect(of(2, 'source-group', false)).toEqual({ hb: ['id'], hc: ['id'] });
    expect(of(3, 'source-group', false)).toEqual({ hb: [], hc: ['id'] });
  });

  /** RFC 2236 §2: its report names no source, whatever the receiver means. */
  it('a host of IGMPv2 that means one source gets them all', () => {
    const old = {
      name: 'old',
      at: 'left',
      address: '10.0.0.5',
      receives: [{ takes: 'cam/239.1.1.1', join: 'stated' }],
    };
    const short = rig([CAM, SECOND, old as ShortHost], { queriers: QUERIER });
    const raw = planOf(short) as { devices: { name: string; interfaces: object[] }[] };
    const with2 = raw.devices.map((one) => ({
      ...one,
      interfaces: one.interfaces.map((via) => ({ ...via, igmpVersion: 2 })),
    }));
    expect(modelled(resolve(short))['second/239.1.1.1']?.hosts).toEqual([]);
    expect(modelled(resolve(short, undefined, { ...raw, devices: with2 }))['second/239.1.1.1']?.hosts).toEqual(['old']);
  });
});

describe('a group that shares its multicast MAC with 224.0.0.x', () => {
  const alias = rig([{ ...CAM, sends: ['239.128.0.9'] }, SPARE], { queriers: QUERIER });

  it.each([
    ['mac', ['spare']],
    [undefined, ['spare']],
    ['group', []],
    ['source-group', []],
  ] as const)('key %s', (snoopingKey, hosts) => {
    const plan = resolve(alias, {
      noQuerier: 'flood',
      unregistered: 'drop',
      ...(snoopingKey === undefined ? {} : { snoopingKey }),
    });
    expect(modelled(plan)['cam/239.128.0.9']?.hosts).toEqual(hosts);
  });
});

describe('a VLAN in two parts', () => {
  const cam = { ...CAM, at: 'right' };
  const spare = { ...SPARE, at: 'right' };
  const second = { ...SECOND, sends: [] };
  /** The only link carries another VLAN. */
  const hostsOf = (
    settings: ShortRig['vlans'][string],
    hosts: readonly ShortHost[] = [cam, spare, second],
  ): readonly string[] | undefined => {
    const parted = {
      ...rig(hosts, settings),
      vlans: { red: settings, blue: {} },
      links: [{ between: ['left', 'right'], vlans: ['blue'] }],
    } as const;
    return modelled(resolve(parted))['cam/239.1.1.1']?.hosts;
  };

  it('floods in the part where nobody queries', () => {
    expect(hostsOf({ queriers: QUERIER })).toEqual(['spare']);
    expect(hostsOf({ queriers: [{ on: 'second', address: '10.0.0.2' }] })).toEqual(['spare']);
    expect(hostsOf({ queriers: [{ on: 'right', address: '10.0.250.1' }] })).toEqual([]);
  });

  it('floods in the part where nobody routes', () => {
    const other = { name: 'other', at: 'right', address: '10.0.0.5' };
    expect(hostsOf({ routers: ['second'] }, [cam, spare, second, other])).toEqual(['other', 'spare']);
    expect(hostsOf({ routers: ['other'] }, [cam, spare, second, other])).toEqual(['other']);
  });
});

describe('a host that takes its own stream', () => {
  const own = { ...CAM, receives: [{ group: '239.1.1.1' }] } as const;

  it.each([
    ['joined', { queriers: QUERIER }, 0],
    ['flooded', { snooping: false }, 0],
  ] as const)('does not get it back from its port: %s', (_, settings, toHost) => {
    const plan = resolve(rig([own, SPARE], settings));
    expect(modelled(plan)['cam/239.1.1.1']?.hosts).not.toContain('cam');
    const load = buildLoad(plan, createModel(plan).network, () => ({ onLink: 7, onPort: 5 }));
    const port = plan.interfaces.find((one) => one.device.name === 'cam')?.port;
    expect(port === undefined ? undefined : load.ports.get(port)).toEqual({ toHost, fromHost: 5, flooded: 0 });
  });
});
