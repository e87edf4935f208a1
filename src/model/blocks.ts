import { z } from 'zod';
import { anchorSchema } from './anchor.ts';
import { outcomeSchema } from './catalogue.ts';
import { plotSchema } from './plot.ts';
import { rangeBarSchema } from './range-bar.ts';
import { zoneLineSchema, zoneMapSchema } from './zone-map.ts';

/** A run of text. `href` is `#anchor` (anywhere in the dossier; printers find the page), or http(s), mailto, tel. */
export const spanSchema = z.strictObject({
  text: z.string(),
  strong: z.literal(true).optional(),
  emphasis: z.literal(true).optional(),
  code: z.literal(true).optional(),
  /** Set back: a range in brackets, an aside. */
  quiet: z.literal(true).optional(),
  href: z.string().optional(),
});
export type Span = z.infer<typeof spanSchema>;
/** Text as printers take it. A `\n` in a text is a line break. */
export const inlineSchema = z.array(z.union([z.string(), spanSchema]));
export type Inline = z.infer<typeof inlineSchema>;

export const originSchema = z.enum(['fact', 'opinion', 'told']);

export { anchorSchema };

export const cellSchema = z.strictObject({
  inline: inlineSchema,
  /** Printed as the state's shape and word before the text. */
  state: outcomeSchema.optional(),
});
export type Cell = z.infer<typeof cellSchema>;

/** One photo as a figure. */
export const figureSchema = z.strictObject({
  photo: z.string(),
  /** Begins with the finding. */
  caption: inlineSchema,
  alt: z.string(),
});
export type Figure = z.infer<typeof figureSchema>;

const headingBlock = z.strictObject({
  type: z.literal('heading'),
  /** 3 below a section's title, 4 below that. */
  level: z.union([z.literal(3), z.literal(4), z.literal(5)]),
  text: z.string(),
  id: anchorSchema.optional(),
});
const paragraphBlock = z.strictObject({
  type: z.literal('paragraph'),
  inline: inlineSchema,
  /** `lead` is the answer first, larger; `quiet` an aside. */
  tone: z.enum(['lead', 'quiet']).optional(),
});
const factsBlock = z.strictObject({
  type: z.literal('facts'),
  /** `key` facts stand beside the lead; `plain` ones are a list of terms and values. */
  look: z.enum(['key', 'plain']),
  items: z.array(z.strictObject({ term: z.string(), value: inlineSchema, note: z.string().optional() })).min(1),
});
const tableBlock = z.strictObject({
  type: z.literal('table'),
  caption: z.string(),
  columns: z.array(z.strictObject({ title: z.string(), align: z.enum(['left', 'right']).optional(), /** Share of width. */ weight: z.number().positive() })).min(2),
  rows: z.array(z.strictObject({ id: anchorSchema.optional(), cells: z.array(cellSchema) })).min(1),
});
const photosBlock = z.strictObject({
  type: z.literal('photos'),
  /** `large` one or two abreast with findings; `index` a contact sheet. */
  look: z.enum(['large', 'index']),
  figures: z.array(figureSchema.extend({ id: anchorSchema.optional() })).min(1),
});
const pairBlock = z.strictObject({
  type: z.literal('pair'),
  id: anchorSchema.optional(),
  /** What is compared: "Inner face, plug 2". */
  title: z.string(),
  before: figureSchema,
  /** The later one: the other is shown, whole, in a frame of its shape. */
  after: figureSchema,
  /** Taken between the two, in order of time. */
  during: z.array(figureSchema).min(1).optional(),
  /** Below both; may be empty. */
  caption: inlineSchema,
});
const stepsBlock = z.strictObject({
  type: z.literal('steps'),
  items: z
    .array(
      z.strictObject({
        id: anchorSchema,
        title: inlineSchema,
        state: outcomeSchema,
        /** Further words beside the state: "carries load", "mounting within 30 cm". */
        tags: z.array(z.string()),
        why: inlineSchema,
        what: inlineSchema,
        /** What it is about in numbers: how likely if left and with the work, cost. Never without their words. */
        figures: inlineSchema.optional(),
        /** Line of links to cautions; may be empty. */
        cautions: inlineSchema,
      }),
    )
    .min(1),
});
const outlookBlock = z.strictObject({
  type: z.literal('outlook'),
  /** What the scale is: "Chance that the steel is through within five years, in 100". */
  caption: z.string(),
  items: z
    .array(
      z.strictObject({
        id: anchorSchema.optional(),
        /** Of what: "Outer cell, carries load". */
        name: z.string(),
        /** The sentence with its words and its numbers. */
        inline: inlineSchema,
        /** The first is drawn solid, the second hollow. */
        bars: z.array(rangeBarSchema).min(1).max(2),
      }),
    )
    .min(1),
});
const plotsBlock = z.strictObject({
  type: z.literal('plots'),
  caption: z.string(),
  /** One for each quantity: its readings stand on one scale, so that they can be compared by eye. */
  scales: z
    .array(
      z.strictObject({
        /** Quantity and unit: "Film, in µm". */
        title: z.string(),
        items: z.array(z.strictObject({ id: anchorSchema.optional(), /** Where it was read. */ name: inlineSchema, /** What it says, a sentence; may be empty. */ inline: inlineSchema, plot: plotSchema })).min(1),
      }),
    )
    .min(1),
});
const minuteSchema = z.number().min(0).max(1440);
const timelineBlock = z
  .strictObject({
    type: z.literal('timeline'),
    /** The day. */
    caption: z.string(),
    /** What it shows, in whole sentences. */
    label: z.string(),
    /** Minutes since midnight by the clock on the wall, as are all times here. */
    from: minuteSchema,
    to: minuteSchema,
    /** One for each zone: its photos. */
    rows: z.array(z.strictObject({ name: z.string(), text: z.string(), marks: z.array(z.strictObject({ at: minuteSchema, /** Anchor of the figure. */ figure: anchorSchema, words: z.string() })).min(1) })).min(1),
    /** Long stretches without a photo. */
    gaps: z.array(z.strictObject({ from: minuteSchema, to: minuteSchema })),
  })
  .refine(({ from, to, rows, gaps }) => [...rows.flatMap((row) => row.marks.flatMap((mark) => [mark.at])), ...gaps.flatMap((gap) => [gap.from, gap.to])].every((at) => from <= at && at <= to), {
    error: 'every time has to lie between from and to',
  });
const zonesBlock = z.strictObject({
  type: z.literal('zones'),
  /** The same on a drawing of the body, with the zones nobody wrote about; left out in issues made before there was one. */
  map: zoneMapSchema.optional(),
  /** May be empty where there is a map. */
  items: z.array(zoneLineSchema.extend({
    /** "3 of 5 known openings seen; 1 kind not counted". */
    coverage: z.string(),
  })),
});
const cautionBlock = z.strictObject({
  type: z.literal('caution'),
  id: anchorSchema,
  title: z.string(),
  when: z.string(),
  points: z.array(z.string()).min(1),
  source: inlineSchema,
});
const remarkBlock = z.strictObject({
  type: z.literal('remark'),
  origin: originSchema,
  /** Who said it, for `told`. */
  by: z.string().optional(),
  inline: inlineSchema,
});
const codeBlock = z.strictObject({ type: z.literal('code'), text: z.string() });
const ruleBlock = z.strictObject({ type: z.literal('rule') });
const listBlock = z.strictObject({
  type: z.literal('list'),
  ordered: z.boolean(),
  get items(): z.ZodArray<z.ZodArray<typeof blockSchema>> {
    return z.array(z.array(blockSchema));
  },
});
const quoteBlock = z.strictObject({
  type: z.literal('quote'),
  get blocks(): z.ZodArray<typeof blockSchema> {
    return z.array(blockSchema);
  },
});

/** The closed set of blocks. Site and PDF each print every one; the compiler names what is missing. */
export const blockSchema = z.discriminatedUnion('type', [
  headingBlock,
  paragraphBlock,
  factsBlock,
  tableBlock,
  photosBlock,
  pairBlock,
  stepsBlock,
  outlookBlock,
  plotsBlock,
  timelineBlock,
  zonesBlock,
  cautionBlock,
  remarkBlock,
  codeBlock,
  ruleBlock,
  listBlock,
  quoteBlock,
]);
export type Block = z.infer<typeof blockSchema>;
export type BlockOf<T extends Block['type']> = Extract<Block, { type: T }>;
