/** Where a stream goes by the settings of its switches, beyond what tests/twin compares with a Linux kernel. */
import { describe, expect, it } from 'vitest';
import { createModel } from '../../src/model/model.js';
import { buildLoad } from '../../src/model/network/load.js';
import type { ShortHost, ShortRig } from '../twin/rigs.js';
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

describe('a group that shares its Ethernet address with 224.0.0.x', () => {
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
