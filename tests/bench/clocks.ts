/**
 * `npm run bench:clocks [-- CLOCKS BOUNDARY-CLOCKS]`: every single loss of a venue of leaves on two spines, who takes over and
 * how long each takeover lasts: milliseconds of electing alone, and of playing every loss through in time.
 */
import { load } from '../../src/engine.js';
import { createModel } from '../../src/model/model.js';

const [clocks = 5000, boundary = 200] = process.argv.slice(2).map(Number);
const id = (n: number): string => n.toString(16).padStart(16, '0').match(/../g)?.join('-') ?? '';

const leaves = Array.from({ length: boundary - 2 }, (_, index) => index);
const perLeaf = Math.ceil((clocks - boundary) / leaves.length);
const SPINES = ['spine-0', 'spine-1'];
const switchOf = (name: string, identity: number, ports: readonly object[]): object => ({
  name,
  ptp: { mode: 'boundary', domain: 127, clockClass: 248, clockIdentity: id(identity) },
  ports,
});
const plan = {
  vlans: [{ name: 'red' }],
  timing: {
    domains: [{ number: 127, logAnnounceInterval: 0, announceReceiptTimeout: 3, grandmasters: ['gm-0', 'gm-1'] }],
  },
  switches: [
    ...SPINES.map((name, spine) =>
      switchOf(name, 1000 + spine, [
        { name: 'gm', access: 'red' },
        ...leaves.map((leaf) => ({ name: `l${String(leaf)}`, trunk: ['red'] })),
      ]),
    ),
    ...leaves.map((leaf) =>
      switchOf(`leaf-${String(leaf)}`, 2000 + leaf, [
        { name: 's0', trunk: ['red'] },
        { name: 's1', trunk: ['red'] },
        ...Array.from({ length: perLeaf }, (_, index) => ({ name: String(index + 1), access: 'red' })),
      ]),
    ),
  ],
  links: leaves.flatMap((leaf) =>
    SPINES.map((spine, index) => ({ ends: [`leaf-${String(leaf)}/s${String(index)}`, `${spine}/l${String(leaf)}`] })),
  ),
  devices: [
    ...SPINES.map((spine, index) => ({
      name: `gm-${String(index)}`,
      ptp: {
        mode: 'ordinary',
        domain: 127,
        grandmaster: true,
        clockClass: 6,
        priority2: index,
        clockIdentity: id(1 + index),
      },
      interfaces: [{ name: 'a', vlan: 'red', port: `${spine}/gm` }],
    })),
    ...leaves.flatMap((leaf) =>
      Array.from({ length: perLeaf }, (_, index) => ({
        name: `cam-${String(leaf)}-${String(index)}`,
        ptp: { mode: 'ordinary', domain: 127, slaveOnly: true, clockIdentity: id(10_000 + leaf * perLeaf + index) },
        interfaces: [{ name: 'a', vlan: 'red', port: `leaf-${String(leaf)}/${String(index + 1)}` }],
      })),
    ),
  ],
};
const { plan: read, problems } = load({ inputs: [{ name: 'plan.json', text: JSON.stringify(plan) }], problems: [] });
if (problems.length > 0) throw new Error(JSON.stringify(problems[0]));
const { timing } = createModel(read);
const start = performance.now();
const { failover } = timing;
const elected = performance.now();
let [handovers, reroutes] = [0, 0];
let longest = 0;
for (const { handovers: all, reroutedIn } of failover) {
  for (const { times } of all) {
    handovers++;
    longest = Math.max(longest, times.followers?.toS ?? Infinity);
  }
  if (reroutedIn === undefined) continue;
  reroutes++;
  longest = Math.max(longest, reroutedIn.toS);
}
const played = performance.now();
process.stdout.write(
  `${String(timing.clocks.length)} clocks, ${String(boundary)} of them boundary clocks: ${String(failover.length)} losses elected in ${(elected - start).toFixed(0)} ms, ` +
    `${String(handovers)} takeovers and ${String(reroutes)} losses with another path played through in ${(played - elected).toFixed(0)} ms; the slowest ends after ${longest.toFixed(1)} s\n`,
);
