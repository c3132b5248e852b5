/** Streams to one address that do not arrive, or of which nobody can tell; and that every cure cures. */
import { describe, expect, it } from 'vitest';
import { camOf, decoderOf, lint, loads, type Raw, rig, rules, sendTo, verdict, without } from '../tools/gateway-rig.js';

describe('what nobody can tell is named', () => {
  it.each([
    [
      'lacks receiver port',
      (raw: Raw) => {
        without(decoderOf(raw).interfaces[0], 'port');
      },
    ],
    [
      'lacks sender port',
      (raw: Raw) => {
        without(camOf(raw).interfaces[0], 'port');
      },
    ],
    [
      'lacks receiver address',
      (raw: Raw) => {
        without(decoderOf(raw).interfaces[0], 'address');
      },
    ],
    [
      'lacks gateway box',
      (raw: Raw) => {
        without(raw.switches[2], 'addresses');
      },
    ],
    [
      'lacks gateway',
      (raw: Raw) => {
        for (const vlan of raw.vlans) without(vlan, 'gateway');
      },
    ],
    [
      'lacks route',
      (raw: Raw) => {
        Object.assign(raw.switches[2] ?? {}, { addresses: [{ vlan: 'cams', address: '10.10.0.1/24' }] });
      },
    ],
    [
      'lacks address holder',
      (raw: Raw) => {
        sendTo('10.90.0.10')(raw);
        Object.assign(decoderOf(raw).interfaces[0] ?? {}, { address: '10.30.0.52/24' });
      },
    ],
    [
      'lacks link',
      (raw: Raw) => {
        raw.links = [];
      },
    ],
    [
      'no gateway',
      (raw: Raw) => {
        without(raw.vlans[0], 'gateway');
      },
    ],
    [
      'nobody holds',
      (raw: Raw) => {
        sendTo('10.30.0.99')(raw);
      },
    ],
    [
      'other address',
      (raw: Raw) => {
        sendTo('10.30.0.1')(raw);
      },
    ],
    [
      'other UDP port',
      (raw: Raw) => {
        Object.assign(raw.devices[1] ?? {}, {
          receivers: [{ name: 'in', takes: 'cam/video', legs: [{ interface: 'main', port: 5006 }] }],
        });
      },
    ],
  ] as const)('%s', (expected, change) => {
    const raw = rig(change);
    expect(verdict(raw)).toBe(expected);
    const { receivers } = lint(raw);
    expect(receivers?.delivered).toBe(0);
    expect(receivers?.notDelivered.filter(({ finding }) => finding === undefined)).toEqual([]);
  });

  it('loads stop where the way is not known, and the report says so', () => {
    const raw = rig(sendTo('10.90.0.10'));
    raw.devices.splice(1);
    expect(loads(raw)).toEqual({ 'L1 there': 21 });
    expect(lint(raw).receivers?.openEnded).toBe(1);
    expect(lint(rig()).receivers?.openEnded).toBe(0);
  });

  it('a stream without a rate is counted as such', () => {
    const raw = rig((one) => {
      without(camOf(one).senders[0], 'format');
    });
    expect(verdict(raw)).toBe('lacks rate');
    expect(lint(raw).receivers?.unrated).toBe(1);
  });
});

describe('faults and their cures', () => {
  it('no gateway: the advised one', () => {
    const raw = rig((one) => {
      without(one.vlans[0], 'gateway');
    });
    expect(rules(raw)).toContain('streams/no-gateway');
    Object.assign(raw.vlans[0] ?? {}, { gateway: '10.10.0.1' });
    expect(rules(raw)).toEqual([]);
  });

  it("sent to another box: the receiver's own address", () => {
    const raw = rig(sendTo('10.30.0.1'));
    expect(rules(raw)).toEqual(['receivers/sent-elsewhere']);
    sendTo('10.30.0.51')(raw);
    expect(rules(raw)).toEqual([]);
  });

  it('two at one port: the port that is offered', () => {
    const raw = rig((one) => {
      one.devices.push({
        name: 'cam-2',
        interfaces: [
          { name: 'main', vlan: 'cams', address: '10.10.0.12/24', address6: 'fd00:10::12/64', port: 'leaf-1/2' },
        ],
        senders: [{ name: 'video', format: 'proxy', legs: [{ interface: 'main', unicast: '10.30.0.51', port: 5004 }] }],
      });
    });
    const [found] = lint(raw).findings;
    expect(found?.rule).toBe('streams/two-to-one-port');
    expect(lint(raw).receivers?.notDelivered.map(({ denial, finding }) => [denial, finding?.rule])).toEqual([
      ['two senders', 'streams/two-to-one-port'],
    ]);
    const { free } = found?.facts as { readonly free: number };
    const cam2 = raw.devices[2] as { senders: { legs: object[] }[] };
    Object.assign(cam2.senders[0]?.legs[0] ?? {}, { port: free });
    expect([free, rules(raw)]).toEqual([5006, []]);
  });

  it('a silent receiver: heard again, nothing is flooded', () => {
    const raw = rig((one) => {
      Object.assign(decoderOf(one).interfaces[0] ?? {}, { silent: true });
      one.devices.push({
        name: 'panel',
        interfaces: [
          { name: 'main', vlan: 'monitors', address: '10.30.0.52/24', address6: 'fd00:30::52/64', port: 'leaf-1/8' },
        ],
      });
      Object.assign(one.switches[0] ?? {}, {
        ports: [
          { name: '1-7', access: 'cams', rate: '1G' },
          { name: '8', access: 'monitors', rate: '1G' },
          { name: 'up', trunk: ['cams', 'monitors'], rate: '10G' },
        ],
      });
    });
    expect(rules(raw)).toEqual(['streams/silent-receiver']);
    expect(loads(raw)).toEqual({ 'L1 there': 21, 'L1 back': 21, 'L2 back': 21 });
    expect(verdict(raw)).toBe('delivered');
    without(decoderOf(raw).interfaces[0], 'silent');
    expect(rules(raw)).toEqual([]);
    expect(loads(raw)).toEqual({ 'L1 there': 21, 'L2 back': 21 });
  });

  it('capacity rules see it on links, circuits and ports, and packets meet the MTU of every VLAN on the way', () => {
    const heavy = (change: (raw: Raw) => void) =>
      rules(
        rig((raw) => {
          raw.formats = [{ name: 'proxy', coding: 'h264', rate: '950M' }];
          change(raw);
        }),
      );
    expect(heavy((raw) => Object.assign(raw.links[1] ?? {}, { rate: '500M' }))).toContain('capacity/link-overload');
    expect(heavy((raw) => Object.assign(raw.links[1] ?? {}, { rate: '500M', medium: 'circuit' }))).toContain(
      'capacity/wan-overload',
    );
    expect(heavy(() => undefined)).toContain('capacity/port-overload');
    expect(rules(rig((raw) => Object.assign(raw.vlans[1] ?? {}, { mtu: 1280 })))).toContain('capacity/packet-over-mtu');
  });
});
