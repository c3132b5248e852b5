/** Spanning tree settings of switches. */
import type { Switch } from '../plan/types.js';
import type { EditList } from './edit-list.js';
import type { EditValue } from './entry.js';

/** Settings in the mapping a switch has for its tree; one without gets RSTP, as a switch out of its box. */
export function setTree(edits: EditList, one: Switch, changes: Readonly<Record<string, EditValue>>): void {
  const { document, container } = one.origin;
  const { spanningTree } = container as { readonly spanningTree?: object | string };
  // One word says the mode alone.
  if (typeof spanningTree === 'string') edits.set(one, 'spanningTree', { mode: spanningTree, ...changes });
  else if (spanningTree === undefined) edits.set(one, 'spanningTree', { mode: 'rstp', ...changes });
  else for (const [key, value] of Object.entries(changes)) edits.put({ document, container: spanningTree, key }, value);
}
