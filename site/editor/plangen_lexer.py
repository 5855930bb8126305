"""A Pygments lexer for plangen designs. Generated from grammar and language tables; do not edit.

Use: `pygmentize -x -l plangen_lexer.py:DesignLexer design.plan`
"""
# ruff: noqa

import re

from pygments.lexer import RegexLexer, bygroups
from pygments.token import (
    Comment, Keyword, Literal, Name, Number, Operator, Punctuation, String, Whitespace,
)


class DesignLexer(RegexLexer):
    """Design texts of plangen."""

    name = "plangen design"
    aliases = ["plangen"]
    filenames = ["*.plan"]
    flags = re.MULTILINE
    tokens = {
        "root": [
            ('#[^\\n]*', Comment.Single),
            ('"[^"\\n]*"', String.Double),
            ('\\d{4}-\\d{1,2}-\\d{1,2}(?!\\d)', Literal.Date),
            ('-?(?:\\d+[ \\t]*ft[ \\t]+)?(?:\\d+[- ]\\d+/\\d+|\\d+/\\d+|\\d+\\.\\d+|\\d+|\\.\\d+)[ \\t]*(?:in/month|mm/month|in/day|mm/day|ftH2O|L/min|L/s|L/h|m3/h|m3/s|ft/s|m/s|in/h|mm/h|cuft|days|degC|degF|sqft|sqm|bar|day|deg|gal|gph|gpm|kPa|min|mA|psi|Pa|cm|ft|in|m3|mm|yd|A|L|V|h|m|s|%)(?![A-Za-z0-9/])', Number),
            ('-?(?:\\d+[- ]\\d+/\\d+|\\d+/\\d+|\\d+\\.\\d+|\\d+|\\.\\d+)', Number),
            ('[A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*\\.[a-z]+', Name.Variable),
            ('[A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*', Name.Entity),
            ('\\->', Operator),
            ('\\(', Punctuation),
            ('\\)', Punctuation),
            ('^(?:include|plangen|connection|mainline|control|hazards|project|review|supply|part|site|zone)(?![-.]?[A-Za-z0-9])', Keyword.Declaration),
            ('^(\\t| {1,8})((?:heater[ \\t]+expansion|emitter[ \\t]+spacing|reclaimed[ \\t]+water|freeze[ \\t]+sensor|quick[ \\t]+coupler|second[ \\t]+source|closing[ \\t]+time|compensating|jurisdiction|master[ \\t]+valve|monthly[ \\t]+rain|reference[ \\t]+et|check[ \\t]+valve|coordinates|flow[ \\t]+sensor|frost[ \\t]+depth|rain[ \\t]+credit|rain[ \\t]+sensor|relief[ \\t]+flow|soil[ \\t]+sensor|swing[ \\t]+joint|contractor|controller|flow[ \\t]+range|monthly[ \\t]+et|chemicals|hydrozone|isolation|regulated|regulator|assembly|blow-out|building|injector|preparer|pressure|purveyor|revision|strainer|together|address|confirm|current|lateral|listing|minor[ \\t]+k|reading|service|telecom|height|issued|length|nipple|parcel|paving|permit|pop-up|radius|rating|septic|sleeve|source|street|waters|window|datum|drain|grade|heads|house|label|meter|north|owner|power|scope|sewer|sheet|storm|units|valve|waive|water|days|drip|flow|from|gain|head|kind|loss|pipe|pond|pump|size|tree|turf|wall|wire|arc|bed|gas|lot|tap|tee)(?![-.]?[A-Za-z0-9]))', bygroups(Whitespace, Keyword)),
            ('(?:answers[ \\t]+comment|critical[ \\t]+level|plant[ \\t]+factor|above[ \\t]+grade|drain[ \\t]+slope|full[ \\t]+circle|relief[ \\t]+port|temperature|drain[ \\t]+size|insulation|allowance|clearance|enclosure|reference|exposure|material|residual|stations|supports|trips[ \\t]+at|because|between|expires|extends|licence|listing|outline|canopy|closed|demand|detail|height|in[ \\t]+box|inrush|joints|lowest|serial|static|cover|depth|drain|phone|place|plant|reach|riser|route|slope|trade|under|until|best|does|firm|from|none|over|rows|side|size|soil|wall|zone|apr|arc|aug|dec|feb|for|jan|jul|jun|mar|may|nov|oct|sep|set|at|by|on)(?![-.]?[A-Za-z0-9])', Name.Attribute),
            ('(?:landscape[ \\t]+architect|quick[ \\t]+coupler|master[ \\t]+valve|electrician|flow[ \\t]+sensor|contractor|irrigation|irrigator|isolation|regulator|relocated|assembly|dripline|engineer|existing|injector|strainer|air[ \\t]+gap|bubbler|plumber|removed|testing|ansi-b|arch-d|design|metric|outlet|tester|wiring|inlet|meter|mixed|rotor|spray|valve|drip|pump|avb|new|pvb|svb|tap|a1|a3|dc|ft|rp|us|m)(?![-.]?[A-Za-z0-9])', Keyword.Constant),
            ('(?:north-northeast|north-northwest|south-southeast|south-southwest|east-northeast|east-southeast|typical[ \\t]+values|west-northwest|west-southwest|data[ \\t]+sheet|northeast|northwest|southeast|southwest|declared|measured|replaces|standard|assumed|library|typical|memory|above|along|below|grade|north|south|east|west|and|of|to)(?![-.]?[A-Za-z0-9])', Operator.Word),
            ('[a-z][a-z0-9]*(?:[-.][a-z0-9]+)*', Name),
            ('[\\{\\},]', Punctuation),
            (r"\n", Whitespace),
            (r"[ \t\r\x0c\xa0]+", Whitespace),
        ]
    }
