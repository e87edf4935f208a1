import { smooth } from './curves.ts';
import type { Point } from './curves.ts';
import { profile } from './landmarks.ts';
import type { Landmarks } from './landmarks.ts';

/** What saloon and estate share. */
const front: Record<'nose' | 'bonnet' | 'screen', readonly Point[]> = {
  nose: [[13, 26], [5, 38], [1.5, 54], [2.5, 68], [9, 78]],
  bonnet: [[9, 78], [40, 86.5], [80, 92.5], [122, 96]],
  screen: [[122, 96], [143, 116], [164, 132]],
};

/** A three-box saloon, two or four doors. */
export function saloon(rearDoors: boolean): Landmarks {
  return {
    tail: 'boot',
    length: 416,
    axles: [72, 320],
    wheel: 30,
    arch: 35,
    sill: { low: 20, high: 31 },
    skirt: 26,
    ...profile({
      ...front,
      roof: [[164, 132], [181, 137.5], [218, 140], [258, 138], [277, 131.5]],
      back: [[277, 131.5], [299, 115], [320, 98]],
      deck: [[320, 98], [352, 97.5], [378, 96], [402, 92.5]],
      stern: [[402, 92.5], [411, 86], [414.5, 72], [413, 54], [406, 40], [398, 27]],
    }),
    belt: smooth([112, 91.5], [180, 93.5], [260, 93.5], [330, 92.5], [412, 86]),
    posts: { a: 126, b: rearDoors ? 206 : 232, rear: rearDoors ? 286 : null, glass: rearDoors ? 291 : 290 },
    lamp: { at: [11.5, 60], rx: 6, rz: 8 },
    filler: [362, 74],
    edge: smooth([0, 0], [2, 34], [7, 60], [22, 71], [70, 77.5], [150, 80.5], [240, 80.5], [320, 78], [380, 73], [406, 66], [413, 50], [416, 0]),
    halves: { bonnet: [54, 62], screen: [65, 55], roof: 54, back: 62, deck: 55 },
    seat: [246, 290],
    cab: null,
    frame: null,
  };
}

/** A low coupé with a long door and a fast back. */
export function coupe(rearDoors: boolean): Landmarks {
  return {
    ...saloon(false),
    length: 412,
    axles: [74, 314],
    wheel: 30,
    arch: 35,
    ...profile({
      nose: [[14, 25], [5, 36], [1.5, 48], [3, 60], [11, 69]],
      bonnet: [[11, 69], [50, 79], [92, 86], [138, 90]],
      screen: [[138, 90], [162, 108], [188, 122.5]],
      roof: [[188, 122.5], [204, 126.5], [222, 127.5], [240, 126], [258, 121]],
      back: [[258, 121], [290, 108], [334, 92]],
      deck: [[334, 92], [360, 89.5], [382, 88], [400, 86.5]],
      stern: [[400, 86.5], [408, 82], [409, 70], [406, 52], [400, 38], [393, 27]],
    }),
    belt: smooth([128, 86.5], [190, 87.5], [262, 88.5], [330, 87.5], [408, 80]),
    posts: { a: 136, b: rearDoors ? 216 : 240, rear: rearDoors ? 282 : null, glass: rearDoors ? 292 : 300 },
    lamp: { at: [13, 52.5], rx: 6.5, rz: 6.5 },
    filler: [352, 72],
    edge: smooth([0, 0], [2, 32], [7, 58], [24, 70], [74, 78], [150, 80], [240, 79.5], [314, 80], [372, 74], [402, 66], [409, 50], [412, 0]),
    halves: { bonnet: [52, 62], screen: [66, 52], roof: 48, back: 59, deck: 54 },
    seat: [264, 292],
  };
}

/** An open two-door car with its hood down. */
export function convertible(rearDoors: boolean): Landmarks {
  return {
    ...saloon(false),
    tail: 'open',
    length: 404,
    axles: [72, 310],
    arch: 34.5,
    ...profile({
      nose: [[13, 25], [5, 36], [1.5, 50], [2.5, 62], [10, 71]],
      bonnet: [[10, 71], [46, 80], [88, 86], [128, 89]],
      screen: [[128, 89], [146, 106], [164, 121]],
      roof: [[164, 121], [169, 123]],
      back: [[236, 87], [242, 94], [262, 97], [282, 94], [294, 87]],
      deck: [[292, 86.5], [330, 87], [362, 86], [390, 82.5]],
      stern: [[390, 82.5], [398, 77.5], [402, 66], [400, 50], [394, 38], [386, 27]],
    }),
    belt: smooth([118, 85], [180, 86], [240, 86.5], [292, 86.5], [340, 85], [400, 78]),
    posts: { a: 130, b: rearDoors ? 196 : 226, rear: rearDoors ? 266 : null, glass: 226 },
    lamp: { at: [12, 54], rx: 6, rz: 7.5 },
    filler: [346, 70],
    edge: smooth([0, 0], [2, 32], [7, 57], [22, 68], [70, 75], [150, 78], [240, 78], [310, 76], [366, 70], [394, 62], [401, 46], [404, 0]),
    halves: { bonnet: [51, 60], screen: [64, 56], roof: 56, back: 58, deck: 53 },
    seat: [234, 276],
  };
}

/** An estate: the saloon's front, its roof carried on to a tailgate. */
export function estate(rearDoors: boolean): Landmarks {
  return {
    ...saloon(rearDoors),
    tail: 'tailgate',
    ...profile({
      ...front,
      roof: [[164, 132], [182, 137.5], [225, 140.5], [290, 139.5], [345, 136.5], [370, 132]],
      back: [[370, 132], [380, 124], [392, 108], [400, 94]],
      deck: [[400, 94], [402, 92.5]],
      stern: [[402, 92.5], [409, 84], [411.5, 70], [410, 54], [405, 40], [398, 27]],
    }),
    belt: smooth([112, 91.5], [180, 93.5], [260, 94], [330, 94], [402, 92]),
    posts: { a: 126, b: rearDoors ? 206 : 232, rear: rearDoors ? 286 : null, glass: 376 },
    filler: [374, 76],
    halves: { bonnet: [54, 62], screen: [65, 55], roof: 53, back: 61, deck: 55 },
    seat: [246, 286],
  };
}

/** An upright saloon of the fifties on a frame of its own. */
export function separateChassis(rearDoors: boolean): Landmarks {
  return {
    ...saloon(false),
    length: 410,
    axles: [70, 316],
    wheel: 33,
    arch: 37,
    sill: { low: 29, high: 40 },
    skirt: 34,
    ...profile({
      nose: [[14, 34], [6, 45], [2, 60], [3, 76], [12, 88]],
      bonnet: [[12, 88], [44, 99], [84, 105.5], [126, 108.5]],
      screen: [[126, 108.5], [139, 130], [155, 150]],
      roof: [[155, 150], [176, 157], [206, 159.5], [238, 157], [264, 148]],
      back: [[264, 148], [286, 130], [304, 110]],
      deck: [[304, 110], [338, 107.5], [368, 101], [393, 89]],
      stern: [[393, 89], [404, 80], [408, 66], [406, 52], [400, 42], [392, 35]],
    }),
    belt: smooth([116, 103], [180, 104], [250, 104], [310, 103.5], [362, 97.5], [404, 82]),
    posts: { a: 126, b: rearDoors ? 200 : 226, rear: rearDoors ? 278 : null, glass: rearDoors ? 280 : 276 },
    lamp: { at: [13, 70], rx: 6.5, rz: 8.5 },
    filler: [352, 82],
    edge: smooth([0, 0], [2, 32], [8, 57], [24, 70], [70, 77], [150, 80], [240, 80], [316, 78], [370, 70], [398, 60], [407, 42], [410, 0]),
    halves: { bonnet: [48, 58], screen: [62, 54], roof: 50, back: 58, deck: 48 },
    seat: [244, 286],
    frame: smooth([4, 36], [60, 36], [120, 40], [190, 46], [260, 46], [320, 42], [400, 40]),
  };
}
