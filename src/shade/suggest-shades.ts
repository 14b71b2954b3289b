// How many fabrics a picture asks for: as many as each still brings it visibly nearer to the picture.
import { type ColourCloud, clusterColours, meanDistance } from '../colour/cluster.ts';

export const FEWEST_SUGGESTED = 3;
export const MOST_SUGGESTED = 8;
/** Share of the first two shades' distance that one more must take off to be worth a fabric (house rule). */
const WORTH = 0.085;

/** `fixed` shades (a ground's) come on top of those for the cloud. */
export function suggestShades(cloud: ColourCloud, seed: number, fixed = 0): number {
  let before = meanDistance(cloud, clusterColours(cloud, 2, seed));
  const first = before || 1;
  let count = 2;
  for (let k = 3; k + fixed <= MOST_SUGGESTED; k++) {
    const now = meanDistance(cloud, clusterColours(cloud, k, seed));
    if ((before - now) / first < WORTH) break;
    before = now;
    count = k;
  }
  return Math.max(FEWEST_SUGGESTED, count + fixed);
}
