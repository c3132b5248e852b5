/** Streams to one address, rig by rig: where they go, what they load and what takes them. */
import { describe, expect, it } from 'vitest';
import { buildFailureTable, buildTrace } from '../../src/model/explain/index.js';
import { waysTo } from '../../src/model/delay/path.js';
import {
  camOf,
  decoderOf,
  lint,
  loads,
  modelOf,
  type Raw,
  rig,
  rules,
  sendTo,
  verdict,
  without,
} from '../tools/gateway-rig.js';

describe('a stream to one address through a gateway', () => {
  it('is delivered, in both families, and the plan without findings', () => {
    expect(verdict(rig())).toBe('delivered');
    expect(verdict(rig(sendTo('fd00:30::51')))).toBe('delivered');
    expect(lint(rig()).findings).toEqual([]);
    expect(lint(rig()).assumptions).toEqual([]);
  });

  it('loads the link to the gateway and the link from it, once each', () => {
    // 20 Mbit/s of media in datagrams of 1316 octets and their headers: more than 20, less than 22.
    expect(loads(rig())).toEqual({ 'L1 there': 21, 'L2 back': 21 });
  });

  it('is lost with every box and link on its way', () => {
    const model = modelOf(rig());
    const lost = buildFailureTable(model).rows.map(({ element }) => `${element.kind} ${element.name}`);
    expect(lost.sort()).toEqual([
      'device cam',
      'device decoder',
      'interface cam main',
      'interface decoder main',
      'link L1',
      'link L2',
      'switch leaf-1',
      'switch leaf-2',
      'switch spine',
    ]);
  });

  it('is drawn stage by stage, and timed over all of its links', () => {
    const raw = rig((one) => {
      for (const link of one.links) Object.assign(link, { length: '100 m' });
    });
    const model = modelOf(raw);
    const [leg] = buildTrace(model, model.plan.senders[0] ?? ({} as never)).legs;
    expect(leg?.stages.map(({ through, reached }) => [through?.name, reached.length])).toEqual([
      [undefined, 0],
      ['spine', 1],
    ]);
    expect(leg?.stop).toBe(undefined);
    const { slowest } = waysTo(model.plan.receivers[0] ?? ({} as never), model.network);
    expect(slowest?.links.map(({ name }) => name)).toEqual(['L1', 'L2']);
  });

  it('needs a TTL above the number of boxes (RFC 1812 §4.2.2.9)', () => {
    const ttl = (value: number) =>
      rig((raw) => {
        Object.assign(camOf(raw).senders[0]?.legs[0] ?? {}, { ttl: value });
      });
    expect([verdict(ttl(1)), rules(ttl(1))]).toEqual(['time to live', ['streams/ttl-too-small']]);
    expect([verdict(ttl(2)), rules(ttl(2))]).toEqual(['delivered', []]);
    expect(loads(ttl(1))).toEqual({ 'L1 there': 21 });
  });

  it('counts twice in one VLAN where two subnets share it', () => {
    const raw = rig((one) => {
      const [spine] = one.switches.slice(2);
      Object.assign(spine ?? {}, {
        addresses: [
          { vlan: 'cams', address: '10.10.0.1/24' },
          { vlan: 'cams', address: '10.30.0.1/24' },
        ],
      });
      Object.assign(decoderOf(one).interfaces[0] ?? {}, { vlan: 'cams' });
      Object.assign(one.switches[1] ?? {}, {
        ports: [
          { name: '1-8', access: 'cams', rate: '1G' },
          { name: 'up', trunk: ['cams'], rate: '10G' },
        ],
      });
    });
    expect(verdict(raw)).toBe('delivered');
    expect(loads(raw)).toEqual({ 'L1 there': 21, 'L2 back': 21 });
  });
});

describe('through several boxes', () => {
  const spines = (count: number) =>
    rig((raw) => {
      raw.vlans = [
        { name: 'cams', subnet: '10.10.0.0/24', gateway: '10.10.0.1' },
        { name: 'monitors', subnet: '10.30.0.0/24', gateway: '10.30.0.1' },
        ...Array.from({ length: count }, (_, at) => [
          { name: `a-${at}`, subnet: `10.200.${at}.0/31` },
          { name: `b-${at}`, subnet: `10.201.${at}.0/31` },
        ]).flat(),
      ];
      const ups = (side: string): object[] =>
        Array.from({ length: count }, (_, at) => ({ name: `up-${at}`, access: `${side}-${at}`, rate: '10G' }));
      const held = (side: string): object[] =>
        Array.from({ length: count }, (_, at) => ({
          vlan: `${side}-${at}`,
          address: `10.20${side === 'a' ? 0 : 1}.${at}.0/31`,
        }));
      raw.switches = [
        {
          name: 'leaf-1',
          ports: [{ name: '1-8', access: 'cams', rate: '1G' }, ...ups('a')],
          addresses: [{ vlan: 'cams', address: '10.10.0.1/24' }, ...held('a')],
        },
        {
          name: 'leaf-2',
          ports: [{ name: '1-8', access: 'monitors', rate: '1G' }, ...ups('b')],
          addresses: [{ vlan: 'monitors', address: '10.30.0.1/24' }, ...held('b')],
        },
        ...Array.from({ length: count }, (_, at) => ({
          name: `spine-${at}`,
          ports: [
            { name: '1', access: `a-${at}`, rate: '10G' },
            { name: '2', access: `b-${at}`, rate: '10G' },
          ],
          addresses: [
            { vlan: `a-${at}`, address: `10.200.${at}.1/31` },
            { vlan: `b-${at}`, address: `10.201.${at}.1/31` },
          ],
        })),
      ];
      for (const vlan of raw.vlans)
        if (vlan['name'] !== 'cams' && vlan['name'] !== 'monitors') vlan['routing'] = undefined;
      raw.links = Array.from({ length: count }, (_, at) => [
        { name: `A${at}`, ends: [`leaf-1/up-${at}`, `spine-${at}/1`] },
        { name: `B${at}`, ends: [`leaf-2/up-${at}`, `spine-${at}/2`] },
      ]).flat();
      for (const device of [camOf(raw), decoderOf(raw)]) without(device.interfaces[0], 'address6');
      for (const at of Array.from({ length: count }, (_, one) => one))
        for (const side of ['a', 'b'])
          Object.assign(raw.vlans.find(({ name }) => name === `${side}-${at}`) ?? {}, {
            routing: { mode: 'none', routers: [`leaf-${side === 'a' ? 1 : 2}`, `spine-${at}`] },
          });
    });

  it('takes the only way by the fewest, and says that this is assumed', () => {
    expect(verdict(spines(1))).toBe('delivered');
    expect(loads(spines(1))).toEqual({ 'A0 there': 21, 'B0 back': 21 });
    expect(lint(spines(1)).assumptions).toEqual([{ fact: 'unicastRoute', boxes: ['leaf-1', 'spine-0', 'leaf-2'] }]);
  });

  it('needs a TTL above all of them', () => {
    const ttl = (value: number): Raw => {
      const raw = spines(1);
      Object.assign(camOf(raw).senders[0]?.legs[0] ?? {}, { ttl: value });
      return raw;
    };
    expect([verdict(ttl(3)), rules(ttl(3))]).toEqual(['time to live', ['streams/ttl-too-small']]);
    expect([verdict(ttl(4)), rules(ttl(4))]).toEqual(['delivered', []]);
  });

  it('follows none of two equal paths: nothing is guessed', () => {
    expect(verdict(spines(2))).toBe('lacks several routes');
    const result = lint(spines(2));
    expect(result.receivers?.openEnded).toBe(1);
    expect(loads(spines(2))).toEqual({});
  });
});

describe('in one subnet', () => {
  const flat = (change: (raw: Raw) => void = () => undefined) =>
    rig((raw) => {
      Object.assign(decoderOf(raw).interfaces[0] ?? {}, { vlan: 'cams', address: '10.10.0.51/24', port: 'leaf-1/2' });
      sendTo('10.10.0.51')(raw);
      for (const vlan of raw.vlans) without(vlan, 'gateway', 'gateway6');
      change(raw);
    });

  it('no gateway is asked for', () => {
    expect(verdict(flat())).toBe('delivered');
    expect(loads(flat())).toEqual({});
  });

  it('a VLAN cut in two delivers nothing, and the finding is that of the VLAN', () => {
    const cut = flat((raw) => {
      Object.assign(decoderOf(raw).interfaces[0] ?? {}, { port: 'leaf-2/1' });
      Object.assign(raw.switches[1] ?? {}, {
        ports: [
          { name: '1-8', access: 'cams', rate: '1G' },
          { name: 'up', trunk: ['monitors'], rate: '10G' },
        ],
      });
    });
    expect(verdict(cut)).toBe('no link');
    expect(lint(cut).receivers?.notDelivered.map(({ finding }) => finding?.rule)).toEqual(['links/vlans-differ']);
    Object.assign(cut.links[1] ?? {}, { vlans: ['monitors'] });
    Object.assign(cut.switches[2] ?? {}, {
      ports: [
        { name: '1', trunk: ['cams', 'monitors'], rate: '10G' },
        { name: '2', trunk: ['monitors'], rate: '10G' },
      ],
    });
    expect(verdict(cut)).toBe('no link');
    expect(lint(cut).receivers?.notDelivered.map(({ finding }) => finding?.rule)).toEqual(['vlans/no-path']);
  });
});
