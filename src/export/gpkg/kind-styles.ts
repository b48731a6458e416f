import { type FeatureStyle, type StyleName, styleNamed } from "../style/plan-style.ts";

/** A style of a kind with the value of an attribute that it is for; null where it is for all. */
export interface KindStyle {
  readonly name: StyleName;
  readonly style: FeatureStyle;
  readonly value: string | null;
}

export interface KindStyles {
  /** Attribute by which styles of the kind differ; undefined where there is one. */
  readonly attribute: string | undefined;
  readonly styles: readonly KindStyle[];
}

const BY_ATTRIBUTE: Readonly<Record<string, { attribute: string; values: readonly string[] }>> = {
  passage: { attribute: "verdict", values: ["mow", "drive", "shut"] },
  finding: { attribute: "severity", values: ["info", "warning", "error"] },
};

/** All styles of a kind of feature; none for kinds that have no style. */
export function stylesOfKind(kind: string): KindStyles {
  const by = Object.hasOwn(BY_ATTRIBUTE, kind) ? BY_ATTRIBUTE[kind] : undefined;
  if (by !== undefined) {
    const styles = by.values.map((value): KindStyle => {
      const name = `${kind}-${value}` as StyleName;
      return { name, style: styleNamed(name), value };
    });
    return { attribute: by.attribute, styles };
  }
  const style = styleNamed(kind as StyleName) as FeatureStyle | undefined;
  return {
    attribute: undefined,
    styles: style === undefined ? [] : [{ name: kind as StyleName, style, value: null }],
  };
}
