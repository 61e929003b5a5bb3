// What the check says where it has nothing to ask for, by how far it has looked.
export const SEEN = {
  cards: 'The cards are seen and sharp: leave the rod tied until the figures are there.',
  blank: 'Cards and blank are seen: leave the rod tied until the figures are there.',
  whole: 'The photo will do: the rod may be let down when the figures are there.',
};
