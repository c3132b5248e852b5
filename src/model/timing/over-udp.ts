/** Who takes part in PTP over UDP, and so needs an IP address. */
import type { Plan } from '../../plan/types.js';
import { clockFacts, type ClockOwner } from './clocks.js';

/** Where no transport is stated, that of the profile: UDP over IPv4 where nothing says otherwise. */
export function clocksOverUdp(plan: Plan): (owner: ClockOwner) => boolean {
  const owners = new Set(clockFacts(plan).flatMap(({ owner, transport }) => (transport === 'ethernet' ? [] : [owner])));
  return (owner) => owners.has(owner);
}
