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
  listNames,
  mark,
  nothingOf,
  ownerLabel,
  touchOf,
  whyNoSource,
  type Address,
  type Interface,
  type Leg,
  type Mark,
  type Model,
  type Owner,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/not-the-sender',
  summary: 'A stream states a source address that is not the one of the interface it leaves by',
  severity: 'error',
  sources: [clause('RFC 1112', '6.2'), clause('RFC 4607', '1')],
  needs: ['sources', 'addresses'],
  *check({ plan, model }) {
    const wrong = plan.legs.filter((leg) => leg.sourceStated && isElsewhere(leg, model));
    const byInterface = groupBy(wrong, (leg) => leg.interface);
    for (const [via, ofInterface] of byInterface) {
      for (const [source, unordered] of groupBy(ofInterface, (leg) => leg.source)) {
        const legs = byLabel(unordered, legLabel);
        const [first, ...rest] = legs;
        if (first === undefined) continue;
        const text = formatAddress(source);
        const own = addressOf(via, source);
        const from = `${via.device.name} ${via.name}`;
        const owners = byLabel(model.owners.byAddress.get(source) ?? [], ownerLabel);
        const whose =
          owners.length === 0 ? 'which nothing in the plan has' : `the address of ${listNames(owners.map(ownerLabel))}`;
        const names = legs.map(legLabel);
        yield {
          subject: `${text} by ${from}`,
          parties: [...names, from, ...owners.map(ownerLabel)],
          what:
            `${listNames(names)} ${legs.length === 1 ? 'states' : 'state'} source ${text}, ${whose}, ` +
            `but ${legs.length === 1 ? 'leaves' : 'leave'} by ${from}${own === undefined ? '' : `, which is ${formatAddress(own)}`}`,
          at: mark(first, `${legLabel(first)}: states this source`, 'source'),
          others: [
            ...rest.map((leg) => mark(leg, `${legLabel(leg)}: states this source`, 'source')),
            ...(own === undefined
              ? []
              : [mark(via, `${from}: sends from this address`, isIPv4(own) ? 'address' : 'address6')]),
            ...owners.map((owner) => ownerMark(owner, source)),
          ],
          onAir: `receivers that ask for source ${text} get nothing from this sender: ${nothingOf(legs.map((leg) => leg.sender))}, on every receiver that filters by source`,
          fix:
            own === undefined
              ? `write the address of ${from} as \`source\`, or leave \`source\` out`
              : `write source ${formatAddress(own)}${otherWay(via, owners, text)}`,
          touch: touchOf(first.sender),
        };
      }
    }
  },
});

/** The interface's address is known and another one, or the stated one is known to be somebody else's. */
function isElsewhere(leg: Leg, model: Model): boolean {
  const { source, interface: via } = leg;
  if (source === undefined || via === undefined) return false;
  const own = addressOf(via, source);
  if (own === source || isLinkLocal(source) || whyNoSource(source, leg.vlan) !== undefined) return false;
  if (own !== undefined) return true;
  return model.owners.byAddress.has(source);
}

function addressOf(via: Interface, source: Address): Address | undefined {
  return isIPv4(source) ? via.address : via.address6;
}

function otherWay(via: Interface, owners: readonly Owner[], text: string): string {
  if (owners.length === 0) return `, or give ${via.device.name} ${via.name} the address ${text}`;
  const sibling = owners.filter(isInterface).find((owner) => owner.device === via.device);
  return sibling === undefined ? '' : `, or send from ${via.device.name} ${sibling.name}`;
}

function ownerMark(owner: Owner, address: Address): Mark {
  return mark(
    owner,
    `${ownerLabel(owner)}: has ${formatAddress(address)}`,
    isIPv4(address) || !isInterface(owner) ? 'address' : 'address6',
  );
}
