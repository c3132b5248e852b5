import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  isInterface,
  isIPv4,
  isLinkLocal,
  legLabel,
  mapAll,
  mark,
  noted,
  ownerLabel,
  touchOf,
  type Address,
  type Interface,
  type Leg,
  type Mark,
  type Model,
  type Owner,
} from '../../../src/doors/rule.js';
import { sourceFault } from '../../../src/doors/sources.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'sources/not-the-sender',
  summary: 'A stream states a source address that is not the one of the interface it leaves by',
  severity: 'error',
  sources: [clause('RFC 1112', '6.2'), clause('RFC 4607', '1')],
  needs: ['sources', 'addresses'],
  brief: 'source is not the sender',
  explains: ['no way back'],
  harm: 'later',
  *check({ plan, model }) {
    const wrong = model.unusualLegs.ownSource.filter((leg) => leg.sourceStated && isElsewhere(leg, model));
    for (const [via, ofInterface] of groupBy(wrong, (leg) => leg.interface)) {
      for (const [address, unordered] of groupBy(ofInterface, (leg) => leg.source)) {
        const legs = byLabel(unordered, legLabel);
        const source = formatAddress(address);
        const own = addressOf(via, address);
        const from = `${via.device.name} ${via.name}`;
        const owners = byLabel(model.owners.byAddress.get(address) ?? [], ownerLabel);
        const names = owners.map(ownerLabel);
        const [at, ...rest] = mapAll(legs, (leg) => noted(mark(leg, legLabel(leg), 'source'), { says: 'states' }));
        yield {
          subject: `${source} by ${from}`,
          parties: [...legs.map(legLabel), from, ...names],
          cure: () => {
            const edits = createEditList();
            for (const leg of own === undefined ? [] : legs) {
              edits.setWhereWritten(leg, 'source', formatAddress(own ?? address));
              for (const one of plan.receiverLegs)
                if (one.takes === leg && one.source === leg.source)
                  edits.setWhereWritten(one, 'source', formatAddress(own ?? address));
            }
            return likely(edits, 'what the interface has for an address');
          },
          facts: {
            source,
            legs,
            via,
            own: own === undefined ? undefined : formatAddress(own),
            owners: names,
            sibling: owners.filter(isInterface).find(({ device }) => device === via.device)?.name,
          },
          at,
          others: [
            ...rest,
            ...(own === undefined
              ? []
              : [noted(mark(via, from, isIPv4(own) ? 'address' : 'address6'), { says: 'sends' })]),
            ...owners.map((owner) => ownerMark(owner, address)),
          ],
          touch: touchOf(legs[0].sender),
        };
      }
    }
  },
  words,
});

/** The interface's address is known and another one, or the stated one is known to be somebody else's. */
function isElsewhere(leg: Leg, model: Model): boolean {
  const { source, interface: via } = leg;
  if (source === undefined || via === undefined) return false;
  const own = addressOf(via, source);
  if (own === source || isLinkLocal(source) || sourceFault(source, leg.vlan) !== undefined) return false;
  return own !== undefined || model.owners.byAddress.has(source);
}

function addressOf(via: Interface, source: Address): Address | undefined {
  return isIPv4(source) ? via.address : via.address6;
}

function ownerMark(owner: Owner, address: Address): Mark<Note> {
  const key = isIPv4(address) || !isInterface(owner) ? 'address' : 'address6';
  return noted(mark(owner, ownerLabel(owner), key), { says: 'has', address: formatAddress(address) });
}
