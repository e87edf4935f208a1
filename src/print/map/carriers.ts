import { smooth } from './curves.ts';
import { profile } from './landmarks.ts';
import type { Landmarks } from './landmarks.ts';

/** A panel van with a short bonnet and two load doors; with rear doors, a door in its side. */
export function van(rearDoors: boolean): Landmarks {
  return {
    tail: 'load doors',
    length: 458,
    axles: [80, 344],
    wheel: 32,
    arch: 38,
    sill: { low: 27, high: 38 },
    skirt: 32,
    ...profile({
      nose: [[12, 31], [5, 42], [2, 58], [3.5, 76], [11, 90]],
      bonnet: [[11, 90], [36, 101], [66, 109], [88, 113]],
      screen: [[88, 113], [110, 146], [136, 180]],
      roof: [[136, 180], [160, 190], [200, 193.5], [300, 194.5], [390, 193.5], [440, 189]],
      back: [[440, 189], [447, 184], [450, 172], [453, 130], [455, 98]],
      deck: [[455, 98], [455.3, 94]],
      stern: [[455.3, 94], [456, 74], [455, 52], [450, 33]],
    }),
    belt: smooth([84, 106], [160, 108], [280, 108.5], [380, 108], [455, 107]),
    posts: { a: 128, b: 206, rear: rearDoors ? 300 : null, glass: 206 },
    lamp: { at: [13, 72.5], rx: 6.5, rz: 8 },
    filler: [404, 96],
    edge: smooth([0, 0], [2, 40], [8, 68], [26, 81], [80, 88], [150, 90], [300, 90], [400, 89.5], [442, 87], [454, 80], [457, 60], [458, 0]),
    halves: { bonnet: [60, 72], screen: [74.5, 70], roof: 76, back: 76, deck: 76 },
    seat: [206, 214],
    cab: null,
    frame: null,
  };
}

/** A pickup on a frame: cab and bed apart; with rear doors, a longer cab and a shorter bed. */
export function pickup(rearDoors: boolean): Landmarks {
  const cab = rearDoors ? 318 : 262;
  return {
    tail: 'bed',
    length: 490,
    axles: [82, 384],
    wheel: 35,
    arch: 40,
    sill: { low: 36, high: 47 },
    skirt: 42,
    ...profile({
      nose: [[10, 42], [5, 52], [3, 68], [4, 86], [11, 96]],
      bonnet: [[11, 96], [50, 104.5], [94, 109], [138, 112]],
      screen: [[138, 112], [154, 136], [172, 158]],
      roof: [[172, 158], [188, 164.5], [cab - 46, 167], [cab - 24, 164.5], [cab - 12, 159]],
      back: [[cab - 12, 159], [cab - 5, 138], [cab - 2, 112], [cab - 2, 106]],
      deck: [[cab + 5, 100], [400, 100], [478, 99]],
      stern: [[478, 99], [482, 96], [483, 72], [481, 52], [476, 44]],
    }),
    belt: smooth([128, 106], [200, 107.5], [cab, 107.5]),
    posts: { a: 138, b: rearDoors ? 214 : 232, rear: rearDoors ? 288 : null, glass: rearDoors ? 290 : 236 },
    lamp: { at: [13, 78], rx: 6.5, rz: 8.5 },
    filler: [420, 84],
    edge: smooth([0, 0], [2, 38], [7, 64], [24, 77], [80, 84], [160, 86], [300, 86], [420, 85], [470, 83], [484, 77], [487, 60], [490, 0]),
    halves: { bonnet: [58, 66], screen: [70, 62], roof: 62, back: 68, deck: 70 },
    seat: [cab - 8, cab - 8],
    cab,
    frame: smooth([6, 38], [70, 38], [130, 42], [200, 48], [300, 50], [380, 46], [476, 44]),
  };
}
