export function plotSheet(size: {
  plots: number;
  seed: number;
  vertices?: number;
  islands?: number;
  perRow?: number;
}): { collection: { type: string; features: object[] }; single: (number: number) => object };
