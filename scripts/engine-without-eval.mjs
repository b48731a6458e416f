/**
 * The glue code of the geometry engine makes two sorts of functions from text, which the page's policy
 * forbids. This puts closures that do the same in their place, and stops the build where the code is
 * no longer the one that it knows.
 */
const PLACES = [
  [
    "return new Function(args1,invokerFnBody)",
    `return function(humanName,throwBindingError,invoker,fn,runDestructors,fromRetWire,toClassParamWire,...rest){
var toWire=rest.slice(0,argCount),first=isClassMethodFunc?2:1;
var ends=[];var k=argCount;
if(!needsDestructorStack)for(var i=isClassMethodFunc?1:2;i<argTypes.length;++i){if(argTypes[i].destructorFunction!==null)ends.push([i===1?1:i-2+first,rest[k++]])}
return function(...args){
var destructors=needsDestructorStack?[]:null;
var wired=isClassMethodFunc?[fn,toClassParamWire(destructors,this)]:[fn];
for(var i=0;i<argCount;++i)wired.push(toWire[i](destructors,args[i]));
var rv=invoker(...wired);
if(destructors)runDestructors(destructors);else for(var i=0;i<ends.length;++i)ends[i][1](wired[ends[i][0]]);
if(returns)return fromRetWire(rv)}}`,
  ],
  [
    "new Function(Object.keys(captures),functionBody)(...Object.values(captures))",
    `((handle,methodName,destructorsRef,at)=>{
var values=argFromPtr.map((read,i)=>read(at+i*GenericWireTypeSize));
var of=kind===3?undefined:Emval.toValue(handle);
var result=kind===0?of(...values):kind===2?new of(...values):kind===1?of[getStringOrSymbol(methodName)](...values):values[values.length-1];
if(!retType.isVoid)return emval_returnValue(toReturnWire,destructorsRef,result)})`,
  ],
];

export const engineWithoutEval = {
  name: "engine-without-eval",
  transform(code, id) {
    if (!id.endsWith("/clipper2z.js")) return null;
    let changed = code;
    for (const [from, to] of PLACES) {
      if (changed.split(from).length !== 2) {
        throw new Error(
          "The geometry engine's glue code has changed: see engine-without-eval.mjs.",
        );
      }
      changed = changed.replace(from, () => to);
    }
    return { code: changed, map: null };
  },
};
