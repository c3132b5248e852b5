/** VLANs let through links: what the mended plan says, read again (IEEE 802.1Q: a trunk carries a set of VLANs, from memory). */
import { describe, expect, it } from 'vitest';
import { carryOnLinks } from '../../src/edits/carry.js';
import { createEditList } from '../../src/edits/edit-list.js';
import { loadPlan } from '../../src/plan/load.js';
import { applyEdits } from '../../src/splice/edit.js';
import { textOf } from '../tools/edits.js';

const TEXT = `rig: Heron
networks: [{name: red}]
vlans: [{name: v1, id: 1, network: red}, {name: v2, id: 2, network: red}, {name: v3, id: 3, network: red}]
switches:
  - {name: core, ports: [{name: 49, trunk: [v1]}]}
  - {name: truck, ports: [{name: 48-50, trunk: [v1]}]}
  - {name: start, ports: [{name: 49, native: v2, trunk: [v1]}]}
links:
  - {ends: [core/49, truck/49]}
  - {ends: [truck/50, start/49], vlans: [v1]}
`;

describe('links that are to carry VLANs', () => {
  const { plan } = loadPlan([{ name: 'plan.yaml', text: TEXT }]);
  const named = (name: string) => plan.vlans.filter((one) => one.name === name);

  it('get all of them at both ends, two ports of one range too, and a native one not once more', () => {
    const edits = createEditList();
    expect(carryOnLinks(edits, plan.links, [...named('v2'), ...named('v3')])).toBe(true);
    const all = edits.all();
    const [first] = all;
    if (first === undefined) throw new Error('no edits');
    const again = loadPlan([{ name: 'plan.yaml', text: textOf(applyEdits(first.document, all)) }]);
    expect(again.problems).toEqual([]);
    const said = again.plan.switches.flatMap((one) =>
      [...one.ports.values()].map((port) => [
        `${one.name}/${port.name}`,
        port.trunk === 'all' ? ['all'] : port.trunk?.map(({ name }) => name),
      ]),
    );
    expect(Object.fromEntries(said)).toEqual({
      'core/49': ['v1', 'v2', 'v3'],
      'truck/48': ['v1'],
      'truck/49': ['v1', 'v2', 'v3'],
      'truck/50': ['v1', 'v2', 'v3'],
      'start/49': ['v1', 'v3'],
    });
    expect(again.plan.links.map(({ vlans }) => vlans?.map(({ name }) => name))).toEqual([
      undefined,
      ['v1', 'v2', 'v3'],
    ]);
  });
});
