/** The colour of a light channel by its place in the descriptor: the first two have one, others none. */
export function channelPlace(place: number): { readonly channel?: 1 | 2 } {
  return place === 0 ? { channel: 1 } : place === 1 ? { channel: 2 } : {};
}
