/** How rules say the cure of a finding, as edits of the plan: what all families ask for, beside `rule.ts`. */
export { bindingOf } from '../edits/bindings.js';
export { addToTrunk, carryOnLinks } from '../edits/carry.js';
export { setClocks } from '../edits/clock-settings.js';
export { certainly, likely, peopleDecide, type Cure } from '../edits/cure.js';
export { createEditList, type EditList } from '../edits/edit-list.js';
export { removeEntry, runsOf, setLegNumber, setLinkEnd, setOnPorts, writtenAt } from '../edits/entries.js';
export { type EditValue } from '../edits/entry.js';
export { createCompletion, writeCompletion } from '../edits/fill-in.js';
export { addQueriers, giveAddress, setOnVlan } from '../edits/group-settings.js';
export { type MapEntryFacts, ofMapEntry } from '../edits/map-entry.js';
export { mayHave, moveBlocks, readdress, usualVlanOf } from '../edits/readdress.js';
export { groupsFor, listenersOf, regroup, type Regrouping, regroupTo } from '../edits/regroup.js';
export { setTree } from '../edits/tree-settings.js';
