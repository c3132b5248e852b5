/** Small rigs for tests of joining: what they share decides what clashes. */
import type { SideInput } from '../../src/merge/sides.js';

/** A camera with one stream on red and blue. Equal numbers in two rigs clash. */
export interface Camera {
  /** Third and last number of its groups: 239.1.T.L on red, 239.2.T.L on blue. */
  readonly block: number;
  readonly last: number;
  /** Last number of its addresses. */
  readonly host: number;
}

export interface RigShape {
  readonly name: string;
  readonly cameras: readonly Camera[];
  /** Tens of the VLAN ids: 10 gives 10 for red and 11 for blue. */
  readonly ids: number;
  /** Second number of its subnets: 10.N.1.0/24 red, 10.N.2.0/24 blue. */
  readonly net: number;
  /** Camera whose stream each screen takes, by number. */
  readonly screens?: readonly number[];
}

/** One file a rig, as a crew would write it. */
export function rigInput({ name, cameras, ids, net, screens = [] }: RigShape): SideInput {
  const vlan = (leg: number): string => {
    const at = `10.${net}.${leg}`;
    return [
      `  - name: v-${leg === 1 ? 'red' : 'blue'}`,
      `    id: ${ids + leg - 1}`,
      `    network: ${leg === 1 ? 'red' : 'blue'}`,
      `    subnet: ${at}.0/24   # ${name}, leg ${leg}`,
      '    igmp:',
      '      snooping: true',
      '      version: 3',
      `      querier: [{on: ${name}-sw-${leg}, address: ${at}.253}, {on: ${name}-sp-${leg}, address: ${at}.254}]`,
      '      unregistered: drop',
      '    routing: {mode: none}',
    ].join('\n');
  };
  const switches = [1, 2].flatMap((leg) =>
    ['sw', 'sp'].map((kind, index) =>
      [
        `  - name: ${name}-${kind}-${leg}`,
        `    addresses: [{vlan: v-${leg === 1 ? 'red' : 'blue'}, address: 10.${net}.${leg}.${253 + index}/24}]`,
      ].join('\n'),
    ),
  );
  const camera = ({ block, last, host }: Camera, index: number): string =>
    [
      `  - name: ${name}-cam-${index}`,
      '    kind: camera',
      '    interfaces:',
      `      - {name: red, address: 10.${net}.1.${host}/24}`,
      `      - {name: blue, address: 10.${net}.2.${host}/24}`,
      '    senders:',
      `      - {name: picture, legs: [{group: 239.1.${block}.${last}}, {group: 239.2.${block}.${last}}]}`,
    ].join('\n');
  const screen = (takes: number, index: number): string =>
    [
      `  - name: ${name}-screen-${index}`,
      '    kind: screen',
      '    interfaces:',
      `      - {name: red, address: 10.${net}.1.${230 + index}/24}`,
      `      - {name: blue, address: 10.${net}.2.${230 + index}/24}`,
      '    receivers:',
      `      - {name: in, takes: ${name}-cam-${takes}/picture}`,
    ].join('\n');
  const text = [
    'rigproof: 1',
    `rig: ${name}`,
    'networks:',
    '  - {name: red, role: media, leg: 1}',
    '  - {name: blue, role: media, leg: 2}',
    'vlans:',
    vlan(1),
    vlan(2),
    'switches:',
    ...switches,
    'kinds:',
    '  - name: camera',
    '    interfaces: [{name: red, vlan: v-red}, {name: blue, vlan: v-blue}]',
    '    senders:',
    '      - {name: picture, essence: video, legs: [{interface: red, port: 5004, ttl: 16}, {interface: blue, port: 5004, ttl: 16}]}',
    ...(screens.length === 0
      ? []
      : [
          '  - name: screen',
          '    interfaces: [{name: red, vlan: v-red}, {name: blue, vlan: v-blue}]',
          '    receivers: [{name: in, interfaces: [red, blue]}]',
        ]),
    'devices:',
    ...cameras.map(camera),
    ...screens.map(screen),
    '',
  ].join('\n');
  return { from: `${name}.yaml`, inputs: [{ name: `${name}.yaml`, text }] };
}

/** Both networks of all rigs become one, VLAN by VLAN. */
export function joinInput(names: readonly string[]): { readonly name: string; readonly text: string } {
  const list = (vlan: string): string => `[${names.map((name) => `${name}:${vlan}`).join(', ')}]`;
  return {
    name: 'join.yaml',
    text: ['rigproof: 1', 'rig: Bay', 'joins:', `  - vlans: ${list('v-red')}`, `  - vlans: ${list('v-blue')}`, ''].join(
      '\n',
    ),
  };
}
