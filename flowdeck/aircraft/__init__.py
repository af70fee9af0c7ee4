"""The flown aeroplane: controls that follow what the crew does, and motion that answers to them.

Simple but believable: figures are round, chosen to match no type (`our proposal` unless marked).
"""
