"""Templates that would take all memory or all time, were there no limits."""

from __future__ import annotations

BOMBS = {
    "text doubled": "{% set ns=namespace(a='a') %}{% for i in range(34) %}{% set ns.a = ns.a ~ ns.a %}{% endfor %}{{ ns.a|length }}",
    "text added": "{% set ns=namespace(a='a') %}{% for i in range(34) %}{% set ns.a = ns.a + ns.a %}{% endfor %}{{ ns.a|length }}",
    "lists added": "{% set ns=namespace(a=[1]) %}{% for i in range(34) %}{% set ns.a = ns.a + ns.a %}{% endfor %}{{ ns.a|length }}",
    "loop in a loop": "{% for i in range(99999) %}{% for j in range(99999) %}{% endfor %}{% endfor %}",
    "long page": "{% set x='a'*100000 %}{% for i in range(99999) %}{{ x }}{% endfor %}",
    "centred": "{{ 'a'|center(3000000000) }}",
    "padded": "{{ '%03000000000d'|format(1) }}",
    "padded in braces": "{{ '{:>3000000000}'.format(1) }}",
    "indented": "{{ 'a'|indent(3000000000, first=True) }}",
    "replaced": "{% set x='a'*100000 %}{{ x|replace('a', x)|length }}",
    "adjusted": "{{ 'a'.ljust(3000000000)|length }}",
    "filled with noughts": "{{ 'a'.zfill(3000000000)|length }}",
    "tabs": "{{ '\t'.expandtabs(2000000000)|length }}",
    "itself": "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
    "itself included": "{% include 'chapters/cover.html.j2' %}",
    "squares": "{% set ns=namespace(a=3) %}{% for i in range(40) %}{% set ns.a = ns.a * ns.a %}{% endfor %}{{ ns.a }}",
    "batches": "{{ [1]|batch(2000000000, 0)|list|length }}",
    "slices": "{{ [1]|slice(2000000000)|list|length }}",
    "joined": "{% set x='a'*100000 %}{{ ([x] * 90000)|join(x)|length }}",
    "dummy words": "{{ lipsum(n=9000000)|length }}",
    "translated": "{% set x='a'*100000 %}{{ x.translate({97: x})|length }}",
    "split and joined": "{% set x='a'*100000 %}{% for i in range(99999) %}{% set y = x.join(x) %}{% endfor %}",
    "tower of powers": "{% set ns=namespace(a=9) %}{% for i in range(40) %}{% set ns.a = ns.a ** 5 %}{% endfor %}{{ ns.a }}",
}
"""What each does, and the template; all were let through by a sandbox that watches products and powers alone, but for the last."""
