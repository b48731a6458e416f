/** Words of comparing, in English and in German: same keys, same placeholders. */
export const COMPARE_EN = {} as const;

export const COMPARE_DE: Readonly<Record<keyof typeof COMPARE_EN, string>> = {};
