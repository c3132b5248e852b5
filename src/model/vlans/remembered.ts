/** Answers about places, remembered for those asked about last. */
import type { Switch, Vlan } from '../../plan/types.js';
import type { Attached, Domain } from './domain.js';

/**
 * The same answers, with those of two places kept: lists of a plan go through one leaf's red and blue in turns, and a
 * large plan asks about every leg a dozen times. What stands on no known port is asked about anew.
 */
export function rememberingTwo(find: (attached: Attached) => Domain): (attached: Attached) => Domain {
  let last: Answer | undefined;
  let before: Answer | undefined;
  return (attached) => {
    const { vlan, interface: via } = attached;
    const port = via === undefined ? attached.port : via.port;
    if (vlan === undefined || typeof port !== 'object') return find(attached);
    const owner = port.switch;
    if (last?.vlan === vlan && last.owner === owner) return last.domain;
    const other = before;
    if (other?.vlan === vlan && other.owner === owner) {
      before = last;
      last = other;
      return other.domain;
    }
    before = last;
    last = { vlan, owner, domain: find(attached) };
    return last.domain;
  };
}

interface Answer {
  readonly vlan: Vlan;
  readonly owner: Switch;
  readonly domain: Domain;
}
