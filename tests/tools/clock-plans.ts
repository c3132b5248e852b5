/** What the tests of clocks share: small plans, and who follows whom. */
import type { Timing } from '../../src/model/timing/build-timing.js';
import type { TimingState } from '../../src/model/timing/timing.js';
import { modelOf } from '../tools/network-plans.js';

/** Who follows whom: `cam: leaf-a`, or what became of a clock that follows nobody. */
export function tree(state: TimingState): Readonly<Record<string, string>> {
  return Object.fromEntries(
    state.clocks.map((clock) => [clock.name, state.outcomeOf(clock)?.parent?.clock.name ?? state.clockRoleOf(clock)]),
  );
}

export function timingOf(text: string): Timing {
  return modelOf(text).timing;
}

export const GM = 'mode: ordinary, clockClass: 6, grandmaster: true';
export const CAM = 'mode: ordinary, slaveOnly: true';

/** A switch between two clocks; `ptp` is what it says of itself. */
export function aroundSwitch(ptp: string, more = ''): string {
  return `
vlans: [{name: red-video, id: 10}, {name: red-audio, id: 20}]
switches:
  - name: leaf
    ports: [{name: 1-4, access: red-video}, {name: 5-8, access: red-audio}]
    ${ptp}
devices:
  - {name: clock, ptp: {${GM}, clockIdentity: 00-00-00-FF-FE-00-00-01}, interfaces: [{name: e1, port: leaf/1, mac: '02:00:00:00:00:01'}]}
  - {name: cam, ptp: {${CAM}, clockIdentity: 00-00-00-FF-FE-00-00-02}, interfaces: [{name: e1, port: leaf/2, mac: '02:00:00:00:00:02'}]}
  - {name: desk, ptp: {${CAM}, clockIdentity: 00-00-00-FF-FE-00-00-03}, interfaces: [{name: e1, port: leaf/5, mac: '02:00:00:00:00:03'}]}
${more}`;
}
