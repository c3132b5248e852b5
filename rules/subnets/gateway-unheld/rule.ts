import { createEditList, likely, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  heldFact,
  heldLabel,
  heldMark,
  isNonEmpty,
  mapAll,
  mark,
  vlanSubject,
  type Model,
} from '../../../src/doors/rule.js';
import { type UnheldGateway, unheldGateways } from '../../../src/doors/subnets.js';
import { words, type Facts } from './words.js';

const GATEWAY = clause('RFC 1122', '3.3.1.2');
const SHARED = commonPractice('routers of one VLAN may share its gateway as a virtual address');

export default defineRule<Facts>({
  id: 'subnets/gateway-unheld',
  summary: 'The routers of a VLAN are known, and none of them has its gateway',
  severity: 'warning',
  sources: [GATEWAY, SHARED],
  needs: ['addresses', 'gateways'],
  brief: 'gateway held by nobody',
  harm: 'unicast',
  *check({ plan, model }) {
    for (const found of byLabel(unheldGateways(model), ({ vlan }) => vlanSubject(vlan))) {
      const { vlan, key, address } = found;
      const routers = byLabel(found.routers, heldLabel);
      if (!isNonEmpty(routers)) continue; // said under what is assumed
      // Hosts that state a router's address show the same by `hosts/gateway-differs`.
      const told = new Set(routers.map((one) => one.address));
      if (plan.interfaces.some((one) => one.vlan === vlan && one.gateway !== undefined && told.has(one.gateway)))
        continue;
      const gateway = formatAddress(address);
      const alone = routers.length === 1;
      yield {
        subject: `${gateway} in ${vlanSubject(vlan)}`,
        parties: [vlan.name, ...routers.map(heldLabel)],
        // Several may share a virtual address that is none of theirs.
        ...(alone ? { confidence: 'likely' } : { severity: 'note', confidence: 'assumed' }),
        cure: () => cure(model, found),
        facts: { gateway, vlan: vlan.name, routers: mapAll(routers, heldFact) },
        at: mark(vlan, `gateway of VLAN ${vlan.name}`, key),
        others: routers.map((one) => heldMark(one)),
        touch: { kind: 'vlan', name: vlan.name },
        sources: alone ? [GATEWAY] : [GATEWAY, SHARED],
      };
    }
  },
  words,
});

function cure({ plan }: Model, { vlan, key, address, routers }: UnheldGateway): Cure {
  const [router, ...more] = routers;
  if (router === undefined || more.length > 0)
    return peopleDecide('which router has the gateway, or whether they share it as a virtual address');
  const edits = createEditList();
  edits.set(vlan, key, formatAddress(router.address));
  for (const one of plan.interfaces)
    if (one.vlan === vlan && one.gateway === address) edits.set(one, 'gateway', formatAddress(router.address));
  return likely(edits);
}
