/** What the rules of the family `routing` alone ask for, beside `rule.ts`. */
export { type ApartRouters, astrayDesignated, type Box, noNeighbours } from '../model/network/index.js';
export { type HalfRouted, halfRouted } from '../model/vlans/index.js';
