/** Groups bound to ports by hand, as a plan writes them. */
import type { Port, Vlan } from '../plan/types.js';
import type { EditValue } from './entry.js';

/** An entry of a switch's `bindings`. */
export function bindingOf(vlan: Vlan | undefined, group: string, ports: readonly Port[]): EditValue {
  return { groups: [group], ports: ports.map(({ name }) => name), ...(vlan === undefined ? {} : { vlan: vlan.name }) };
}
